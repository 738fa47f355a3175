/** What the viewer shows of the time axis: state of this browser only, the station knows nothing of it. */

export interface ViewState {
  /** Length of the window on the time axis, in seconds. */
  readonly windowS: number;
  /** Right edge of a view that stands still; absent while it follows the stream. */
  readonly heldEndS?: number;
}

export const WINDOW_CHOICES_S = [5, 10, 20, 60] as const;
export const WINDOW_MIN_S = 2;
export const WINDOW_MAX_S = 60;

export const INITIAL_VIEW: ViewState = { windowS: 10 };

export function isHeld(view: ViewState): view is ViewState & { heldEndS: number } {
  return view.heldEndS !== undefined;
}

export function endS(view: ViewState, nowS: number): number {
  return view.heldEndS ?? nowS;
}

export function hold(view: ViewState, nowS: number): ViewState {
  return isHeld(view) ? view : { windowS: view.windowS, heldEndS: nowS };
}

export function follow(view: ViewState): ViewState {
  return { windowS: view.windowS };
}

/** What can be looked back to: from the oldest sample to now. */
export interface Extent {
  readonly oldestS: number;
  readonly nowS: number;
}

/** Moves the view along the time axis; beyond the newest end it follows the stream again. */
export function move(view: ViewState, byS: number, extent: Extent): ViewState {
  const target = endS(view, extent.nowS) + byS;
  return byS > 0 && target >= extent.nowS ? follow(view) : moveTo(view, target, extent);
}

/** Puts the right edge at a time, within what there is. */
export function moveTo(view: ViewState, edgeS: number, extent: Extent): ViewState {
  const earliestS = Math.min(extent.nowS, extent.oldestS + view.windowS);
  return { windowS: view.windowS, heldEndS: Math.min(extent.nowS, Math.max(earliestS, edgeS)) };
}

/** Changes the window's length around its right edge (live) or its middle (held). */
export function zoomTo(view: ViewState, windowS: number, extent: Extent): ViewState {
  const length = Math.min(WINDOW_MAX_S, Math.max(WINDOW_MIN_S, windowS));
  if (!isHeld(view)) return { windowS: length };
  const middleS = view.heldEndS - view.windowS / 2;
  return moveTo({ windowS: length }, middleS + length / 2, extent);
}

/** The next longer (1) or shorter (-1) of the offered lengths. */
export function nextChoiceS(windowS: number, direction: 1 | -1): number {
  const longer = WINDOW_CHOICES_S.find((choice) => choice > windowS * 1.001);
  const shorter = WINDOW_CHOICES_S.findLast((choice) => choice < windowS * 0.999);
  return (direction === 1 ? longer : shorter) ?? windowS;
}
