/** One contraction, in the place of the live trace: what was measured, from where, and within which boundaries. */

import { useComputed } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import type { Review } from '../live/review-api';
import { inForce, REVIEW_VIEWS, reviewable } from '../model/review';
import { asymmetrySentence, lagSentence, metricText } from '../text/result-sentences';
import { boundaryText, metricIn, placeText } from '../text/review-sentences';
import { sentence } from '../text/state-sentences';
import { words } from '../text/words';
import { useActions } from './context';
import { contractionName, whenText } from './limb-names';
import { LineSample } from './line-sample';
import { Reasons, ReviewFigures } from './review-figures';
import { ReviewPlot } from './review-plot';

const VIEW_WORDS = { whole: words.viewWhole, onset: words.viewOnset, release: words.viewRelease } as const;
const NAMES = ['onset', 'release', 'offset'] as const;

export function ReviewPanel() {
  const { review } = useActions();
  const section = useRef<HTMLElement>(null);
  const known = review.review.value;
  const { failure } = review;
  useEffect(() => section.current?.focus(), []);
  return (
    <section class="trace review" id="trace" ref={section} tabIndex={-1} aria-label={words.contraction}>
      <ReviewHead />
      {known?.gone !== undefined && <p class="review-gone">{known.gone}</p>}
      {known?.gone === undefined && <ReviewPlot />}
      <div class="review-below">
        {known && <ChosenValue known={known} />}
        <p class="review-state" role="status">
          {failure.value ?? (review.moving.value ? words.measuring : '')}
        </p>
      </div>
      {known && (
        <div class="review-body">
          <div class="review-side">
            <BoundaryFacts known={known} />
            <ReviewNotes known={known} />
            <EffortFacts known={known} />
          </div>
          <ReviewFigures known={known} />
          <Reasons known={known} />
        </div>
      )}
    </section>
  );
}

/** The figure whose mark is drawn strongly. */
function ChosenValue({ known }: { readonly known: Review }) {
  const { model, review } = useActions();
  const id = review.marked.value;
  const metric = id === undefined ? undefined : metricIn(inForce(known), id);
  return (
    <p class="review-chosen">
      {id !== undefined && metric !== undefined && (
        <>
          <strong>{model.catalog.title(id)}</strong> {metricText(metric)}
        </>
      )}
    </p>
  );
}

function ReviewHead() {
  const actions = useActions();
  const { model, review } = actions;
  const finished = useComputed(() => reviewable(model.station.value.contractions));
  const id = review.id.value;
  const index = finished.value.findIndex((one) => one.id === id);
  const contraction = (review.review.value && inForce(review.review.value)) ?? finished.value[index];
  const shown = model.shown.value.find((one) => one.channel.channel === contraction?.channel);
  const title =
    contraction === undefined
      ? words.contraction
      : `${contractionName(contraction, model.channels.value)}, ${whenText(model.station.peek(), contraction.onsetS)}`;
  return (
    <>
      <div class="review-head">
        <h2 class="review-title">
          <LineSample line={shown?.line ?? 'solid'} />
          {title}
        </h2>
        <nav class="review-nav" aria-label={words.contraction}>
          <button type="button" class="quiet" disabled={index <= 0} onClick={() => review.go(-1)}>
            {words.previous}
          </button>
          <span class="review-place">{placeText(index, finished.value.length)}</span>
          <button
            type="button"
            class="quiet"
            disabled={index < 0 || index >= finished.value.length - 1}
            onClick={() => review.go(1)}
          >
            {words.next}
          </button>
          <button
            type="button"
            class="quiet"
            disabled={review.partnerId() === undefined}
            onClick={() => review.openPartner()}
          >
            {words.partner}
          </button>
        </nav>
        <button type="button" onClick={() => actions.closeReview()}>
          {words.toTrace}
        </button>
      </div>
      <div class="trace-head">
        <p class="axis-title">{words.reviewAxis(review.review.value?.unit ?? 'N')}</p>
        <fieldset class="choice" aria-label={words.reviewView}>
          {REVIEW_VIEWS.map((view) => (
            <button
              key={view}
              type="button"
              class="quiet"
              aria-pressed={review.view.value === view}
              onClick={() => review.show(view)}
            >
              {VIEW_WORDS[view]}
            </button>
          ))}
        </fieldset>
      </div>
    </>
  );
}

function BoundaryFacts({ known }: { readonly known: Review }) {
  const { review } = useActions();
  return (
    <section aria-label={words.boundaries}>
      <h3>{words.boundaries}</h3>
      <dl class="facts boundaries">
        {NAMES.map((name) => (
          <div key={name} class="fact">
            <dt>{words.boundaryOf[name]}</dt>
            <dd>{boundaryText(name, known.automatic, known.manual)}</dd>
          </div>
        ))}
      </dl>
      <div class="buttons">
        <button type="button" disabled={!known.undo} onClick={() => review.undo()}>
          {words.undo}
        </button>
        <button type="button" disabled={!known.redo} onClick={() => review.redo()}>
          {words.redo}
        </button>
        <button type="button" disabled={known.manual === undefined} onClick={() => review.automatic()}>
          {words.automatic}
        </button>
      </div>
      {known.gone === undefined && <p class="soft">{words.boundaryHint}</p>}
    </section>
  );
}

function ReviewNotes({ known }: { readonly known: Review }) {
  return (
    <>
      {inForce(known).flags.map((flag) => (
        <p key={flag.id} class="note">
          {flag.text}
        </p>
      ))}
    </>
  );
}

function EffortFacts({ known }: { readonly known: Review }) {
  const { effort } = known;
  if (effort === undefined) return null;
  const lag = lagSentence(effort);
  return (
    <div>
      <p>{asymmetrySentence(effort)}</p>
      {effort.formula && <p class="soft">{sentence(effort.formula)}</p>}
      {lag && <p>{lag}</p>}
      {(effort.flags ?? []).map((flag) => (
        <p key={flag.id} class="note">
          {flag.text}
        </p>
      ))}
    </div>
  );
}
