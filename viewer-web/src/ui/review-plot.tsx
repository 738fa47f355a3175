/** The trace of the contraction with its boundaries, each of which is a slider for hand, mouse and keys. */

import { useSignal } from '@preact/signals';
import { useLayoutEffect, useRef } from 'preact/hooks';
import { type Area, type ReviewScene, ReviewView } from '../draw/review-view';
import { BOUNDARY_NAMES, type BoundaryName, boundariesOf, inForce, viewRange } from '../model/review';
import { boundaryValueText } from '../text/review-sentences';
import { words } from '../text/words';
import { useActions } from './context';
import { contractionName } from './limb-names';
import type { ViewerActions } from './viewer-actions';

const NO_AREA: Area = { left: 0, top: 0, width: 0, height: 0 };
/** From here on a boundary's name stands left of its line. */
const FLIP_AT = 0.75;

export function ReviewPlot() {
  const actions = useActions();
  const { review, theme } = actions;
  const host = useRef<HTMLDivElement>(null);
  const drawn = useRef<ReviewView>(undefined);
  const area = useSignal(NO_AREA);
  const current = scene(actions);
  useLayoutEffect(() => {
    const element = host.current;
    if (element === null) return;
    const view = new ReviewView(element);
    drawn.current = view;
    const fit = (): void => {
      view.resize();
      area.value = view.area();
    };
    const sizes = new ResizeObserver(fit);
    sizes.observe(element);
    const forgetTheme = theme.changes.subscribe(() => view.refreshColours());
    void document.fonts.ready.then(() => view.refreshColours());
    return () => {
      drawn.current = undefined;
      forgetTheme();
      sizes.disconnect();
      view.destroy();
    };
  }, [theme, area]);
  useLayoutEffect(() => {
    if (current === undefined || drawn.current === undefined) return;
    drawn.current.draw(current);
    const now = drawn.current.area();
    if (now.left !== area.peek().left || now.width !== area.peek().width) area.value = now;
  });
  return (
    <div class="plot review-plot">
      <div
        class="review-canvas"
        ref={host}
        role="img"
        aria-label="Unfiltered force of this contraction against time. Figures and boundaries are listed below as text."
      />
      {current === undefined && review.failure.value === undefined && <p class="review-wait soft">{words.loading}</p>}
      {current &&
        BOUNDARY_NAMES.map((name, row) => (
          <Boundary key={name} name={name} row={row} current={current} area={area.value} />
        ))}
    </div>
  );
}

function scene({ model, review }: ViewerActions): ReviewScene | undefined {
  const known = review.review.value;
  const samples = review.samples.value;
  const now = review.boundaries.value;
  if (known === undefined || samples === undefined || now === undefined) return undefined;
  const contraction = inForce(known);
  const found = boundariesOf(known.automatic);
  const channel = model.shown.value.find((one) => one.channel.channel === known.channel);
  const name = contractionName(contraction, model.channels.value);
  return {
    samples,
    line: channel?.line ?? 'solid',
    ...viewRange(review.view.value, found, samples),
    found,
    inForce: now,
    restN: contraction.restingLevelN,
    // Marks of the boundaries before would be drawn in the wrong place while a boundary is on its way.
    marks: review.moving.value === undefined ? (known.marks ?? []) : [],
    chosen: review.marked.value,
    gapWords: words.noSamplesOf(name),
  };
}

interface BoundaryProps {
  readonly name: BoundaryName;
  /** Each name has a row of its own above the plot, so that names never overlap. */
  readonly row: number;
  readonly current: ReviewScene;
  readonly area: Area;
}

function Boundary({ name, row, current, area }: BoundaryProps) {
  const { review } = useActions();
  const handle = useRef<HTMLDivElement>(null);
  const { fromS, toS, inForce: now, found, samples } = current;
  const share = (now[name] - fromS) / (toS - fromS);
  const visible = share >= 0 && share <= 1 && area.width > 0;
  const wanted = review.wanted.value === name;
  useLayoutEffect(() => {
    if (!wanted || handle.current === null) return;
    review.wanted.value = undefined;
    handle.current.focus();
  });
  if (!visible) return null;
  const first = samples.timeS[0] ?? fromS;
  const last = samples.timeS[samples.timeS.length - 1] ?? toS;
  return (
    <div
      ref={handle}
      class={`boundary row-${row}${share > FLIP_AT ? ' flipped' : ''}`}
      style={{ left: `${area.left + share * area.width}px`, height: `${area.top + area.height}px` }}
      role="slider"
      tabIndex={0}
      aria-label={words.boundaryOf[name]}
      aria-orientation="horizontal"
      aria-valuemin={first - found.onset}
      aria-valuemax={last - found.onset}
      aria-valuenow={now[name] - found.onset}
      aria-valuetext={boundaryValueText(name, now, found)}
      data-testid={`boundary-${name}`}
      onKeyDown={(event) => {
        const steps = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1 }[event.key];
        if (steps === undefined || event.altKey || event.metaKey) return;
        event.preventDefault();
        if (event.ctrlKey) review.stepTime(name, steps * 0.1);
        else if (event.shiftKey) review.stepTime(name, steps * 0.01);
        else review.stepSamples(name, steps);
      }}
      onBlur={() => void review.send()}
      onPointerDown={(event) => {
        if (event.button === 0) event.currentTarget.setPointerCapture(event.pointerId);
      }}
      onPointerMove={(event) => {
        if (!event.currentTarget.hasPointerCapture(event.pointerId)) return;
        const box = event.currentTarget.parentElement?.getBoundingClientRect();
        if (box === undefined) return;
        const at = (event.clientX - box.left - area.left) / area.width;
        review.drag(name, fromS + Math.min(1, Math.max(0, at)) * (toS - fromS));
      }}
      onPointerUp={() => void review.send()}
      onPointerCancel={() => void review.send()}
    >
      <span class="boundary-line" aria-hidden="true" />
      <span class="boundary-name" aria-hidden="true">
        {words.boundaryOf[name]}
      </span>
    </div>
  );
}
