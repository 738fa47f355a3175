/** The guided calibration, in the place of the live trace: plan, one step after the other, result. */

import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import type { Guide } from '../live/guide-api';
import { guideWords, instruction, levelText, progressText, statusText, takenText } from '../text/guide-sentences';
import { words } from '../text/words';
import { useActions } from './context';
import { GuidePlanForm } from './guide-plan';
import { GuideResultView } from './guide-result';
import { channelName } from './limb-names';

export function GuidePanel() {
  const actions = useActions();
  const { guide, model } = actions;
  const section = useRef<HTMLElement>(null);
  const state = guide.state.value;
  const channel = model.channels.value.find((one) => one.channel === guide.channel.value);
  const name = state !== undefined && state.state !== 'none' ? state.cell.name : channel ? channelName(channel) : '';
  useEffect(() => section.current?.focus(), []);
  return (
    <section class="trace cell guide" id="trace" ref={section} tabIndex={-1} aria-label={guideWords.title(name)}>
      <div class="review-head">
        <h2 class="review-title guide-title">{guideWords.title(name)}</h2>
        <button type="button" onClick={() => actions.closeGuide()}>
          {guideWords.back}
        </button>
      </div>
      <p role="status" class="guide-failure">
        {guide.failure.value ?? (state === undefined ? words.loading : '')}
      </p>
      {state?.state === 'none' && <GuidePlanForm />}
      {state?.state === 'running' && <Running guide={state} />}
      {state?.state === 'finished' && <GuideResultView guide={state} />}
    </section>
  );
}

export function Safety() {
  return (
    <ul class="guide-safety">
      {guideWords.safety.map((one) => (
        <li key={one}>{one}</li>
      ))}
    </ul>
  );
}

function Running({ guide }: { readonly guide: Guide }) {
  const step = guide.steps[guide.done];
  if (step === undefined) return null;
  const { unit } = guide.plan;
  return (
    <>
      <p class="soft">{progressText(guide)}</p>
      <progress max={guide.steps.length} value={guide.done} aria-label={progressText(guide)} />
      <p class="guide-instruction" aria-live="polite" data-testid="guide-instruction">
        {instruction(step, guide.steps[guide.done - 1], unit)}
      </p>
      <Doubts guide={guide} />
      {step.kind === 'read' ? <Reading guide={guide} /> : <Confirm />}
      <Safety />
      <TakenList guide={guide} />
      <CancelButton />
    </>
  );
}

function Reading({ guide }: { readonly guide: Guide }) {
  const { guide: actions } = useActions();
  const level = actions.level.value;
  const { unit } = guide.plan;
  const zero = guide.steps[guide.done]?.applied === 0;
  return (
    <>
      <div class="guide-live">
        <p class="guide-level">{level === undefined ? words.noForce : levelText(level, unit)}</p>
        <p role="status" data-testid="guide-status">
          {guide.channel === undefined ? guideWords.cellGone : level === undefined ? '' : statusText(level)}
        </p>
      </div>
      {unit !== 'kg' && !zero && (
        <label class="field guide-reference">
          {guideWords.reference(unit)}
          <input
            type="text"
            inputMode="decimal"
            name="applied"
            autoComplete="off"
            value={actions.applied.value}
            onInput={(event) => {
              actions.applied.value = event.currentTarget.value;
            }}
            onKeyDown={(event) => {
              if (event.key === 'Enter') void actions.take();
            }}
          />
        </label>
      )}
      <div class="buttons">
        <button type="button" class="filled" disabled={level?.ready !== true} onClick={() => void actions.take()}>
          {guideWords.take}
        </button>
        <UndoButton />
        <button
          type="button"
          class="quiet"
          disabled={level?.meanCounts === undefined || level.ready}
          onClick={() => void actions.take(true)}
        >
          {guideWords.takeAnyway}
        </button>
      </div>
      <p class="soft">{guideWords.keys}</p>
    </>
  );
}

function Confirm() {
  const { guide } = useActions();
  return (
    <div class="buttons">
      <button type="button" class="filled" onClick={() => void guide.take()}>
        {guideWords.confirm}
      </button>
      <UndoButton />
    </div>
  );
}

export function UndoButton() {
  const { guide } = useActions();
  const state = guide.state.value;
  const none = state === undefined || state.state === 'none' || state.done === 0;
  return (
    <button type="button" disabled={none} onClick={() => void guide.undo()}>
      {guideWords.undo}
    </button>
  );
}

/** What is odd about the newest reading. */
function Doubts({ guide }: { readonly guide: Guide }) {
  const { guide: actions } = useActions();
  const doubts = guide.steps[guide.done - 1]?.doubts ?? [];
  if (doubts.length === 0) return null;
  return (
    <div class="cell-advice" role="alert" data-testid="guide-doubts">
      {doubts.map((one) => (
        <p key={one}>{one}</p>
      ))}
      <button type="button" onClick={() => void actions.undo()}>
        {guideWords.repeat}
      </button>
    </div>
  );
}

function TakenList({ guide }: { readonly guide: Guide }) {
  const done = guide.steps.slice(0, guide.done);
  if (done.length === 0) return null;
  return (
    <details class="guide-taken">
      <summary>
        {guideWords.taken} ({done.length})
      </summary>
      <ol>
        {done.map((step, i) => (
          <li key={`${guide.id}-${i}`}>
            {takenText(step, guide.plan.unit)}
            {step.doubts?.map((one) => (
              <span key={one} class="note">
                {one}
              </span>
            ))}
          </li>
        ))}
      </ol>
    </details>
  );
}

/** Asks again before anything is thrown away. */
export function CancelButton() {
  const { guide } = useActions();
  const sure = useSignal(false);
  return (
    <div class="buttons guide-cancel">
      {sure.value ? (
        <>
          <button type="button" onClick={() => void guide.cancel()}>
            {guideWords.cancelSure}
          </button>
          <button
            type="button"
            class="quiet"
            onClick={() => {
              sure.value = false;
            }}
          >
            {guideWords.keepOn}
          </button>
        </>
      ) : (
        <button
          type="button"
          class="quiet"
          onClick={() => {
            sure.value = true;
          }}
        >
          {guideWords.cancel}
        </button>
      )}
    </div>
  );
}
