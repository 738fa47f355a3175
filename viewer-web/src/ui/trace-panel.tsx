/** The trace with its window lengths and the way back; in its place, words where there is nothing to draw. */

import { useComputed } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { Gestures } from '../draw/gestures';
import { TraceView } from '../draw/trace-view';
import { MINUS } from '../format/quantity';
import { writeElapsed, writeSeconds } from '../format/time';
import { isHeld, WINDOW_CHOICES_S } from '../model/view-state';
import { emptyText } from '../text/state-sentences';
import { words } from '../text/words';
import { useActions } from './context';
import type { DrawTarget } from './draw-target';

export function TracePanel({ target }: { readonly target: DrawTarget }) {
  const { model } = useActions();
  const empty = useComputed(() => emptyReason(model));
  return (
    <section class="trace" id="trace" tabIndex={-1} aria-label="Trace">
      <TraceHead />
      {empty.value === undefined ? <Plot target={target} /> : <EmptyTrace {...emptyText[empty.value]} />}
      <TimeControls />
    </section>
  );
}

function emptyReason(model: ReturnType<typeof useActions>['model']): keyof typeof emptyText | undefined {
  const state = model.station.value;
  if (model.connection.value.kind === 'refused') return 'refused';
  if (state.session === undefined) return 'noStation';
  if (state.links.length === 0) return 'noLink';
  return state.channels.length === 0 ? 'waiting' : undefined;
}

function TraceHead() {
  const { model } = useActions();
  const counts = useComputed(
    () => model.shown.value.length > 0 && model.shown.value.every((one) => one.channel.unit !== 'N'),
  );
  return (
    <div class="trace-head">
      <p class="axis-title">{counts.value ? words.countsAxis : words.forceAxis}</p>
      <WindowChoice />
    </div>
  );
}

function WindowChoice() {
  const actions = useActions();
  const windowS = useComputed(() => actions.model.view.value.windowS);
  const offered = WINDOW_CHOICES_S.some((choice) => choice === windowS.value);
  return (
    <fieldset class="choice" aria-label={words.window}>
      {!offered && <span class="soft">{words.windowOther(windowS.value)}</span>}
      {WINDOW_CHOICES_S.map((choice) => (
        <button
          key={choice}
          type="button"
          class="quiet"
          aria-pressed={choice === windowS.value}
          onClick={() => actions.setWindow(choice)}
        >
          {words.windowLength(choice)}
        </button>
      ))}
    </fieldset>
  );
}

function Plot({ target }: { readonly target: DrawTarget }) {
  const actions = useActions();
  const host = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const element = host.current;
    if (element === null) return;
    const view = new TraceView(element, actions.model);
    const gestures = new Gestures(view.pointerArea, actions.model, (event) => {
      const id = view.contractionAt(event.clientX, event.clientY);
      if (id !== undefined) actions.openReview(id);
    });
    const sizes = new ResizeObserver(() => view.resize());
    sizes.observe(element);
    const forgetTheme = actions.theme.changes.subscribe(() => view.refreshColours());
    void document.fonts.ready.then(() => view.refreshColours());
    target.draw = (perfS) => view.draw(perfS);
    return () => {
      target.draw = undefined;
      forgetTheme();
      sizes.disconnect();
      gestures.destroy();
      view.destroy();
    };
  }, [actions, target]);
  return (
    <div
      class="plot"
      ref={host}
      role="img"
      aria-label="Force of each limb against time. The results are listed below as text."
    />
  );
}

function EmptyTrace({ title, text, commands }: { title: string; text: string; commands: readonly string[] }) {
  return (
    <div class="plot empty">
      <div class="empty-words">
        <h2>{title}</h2>
        <p>{text}</p>
        {commands.map((command) => (
          <p key={command}>
            <code>{command}</code>
          </p>
        ))}
      </div>
    </div>
  );
}

/** Hold, look back, come forward: the same for hand, mouse and keys. */
function TimeControls() {
  const actions = useActions();
  const held = useComputed(() => isHeld(actions.model.view.value));
  return (
    <div class="time-controls">
      <button type="button" class="hold" aria-pressed={held.value} onClick={() => actions.toggleHold()}>
        {held.value ? words.follow : words.hold}
      </button>
      <button type="button" class="quiet" onClick={() => actions.look(-0.8)}>
        {words.lookBack}
      </button>
      <PositionSlider />
      <button type="button" class="quiet" disabled={!held.value} onClick={() => actions.look(0.8)}>
        {words.lookForward}
      </button>
    </div>
  );
}

function behindText(behindS: number): string {
  if (behindS < 0.1) return words.now;
  return MINUS + (behindS < 60 ? writeSeconds(behindS) : writeElapsed(behindS));
}

function PositionSlider() {
  const actions = useActions();
  const { model } = actions;
  const nowS = model.nowS.value;
  const { oldestS } = model.extent(performance.now() / 1000);
  const edgeS = model.view.value.heldEndS ?? nowS;
  const behindS = nowS - edgeS;
  // Whole seconds: the browser cuts values at multiples of the step from the least one, which must not wander.
  const reachS = Math.max(0, Math.ceil(nowS - oldestS - model.view.value.windowS));
  return (
    <label class="position">
      <span class="visually-hidden">{words.position}</span>
      <input
        type="range"
        min={-Math.max(1, reachS)}
        max={0}
        step="0.1"
        value={-behindS}
        disabled={reachS === 0}
        aria-valuetext={behindText(behindS)}
        onInput={(event) => actions.lookAt(model.nowS.peek() + Number(event.currentTarget.value))}
      />
      <span class="position-text">{behindText(behindS)}</span>
    </label>
  );
}
