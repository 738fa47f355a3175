/** The last efforts as sentences; all figures of one on demand. */

import { useComputed, useSignal } from '@preact/signals';
import { isKnown, writeQuantity } from '../format/quantity';
import type { Contraction } from '../live/events';
import { metricIds, type ResultEntry, resultList } from '../model/result-list';
import {
  asymmetrySentence,
  lagSentence,
  limbPhrase,
  metricOf,
  metricText,
  revisionText,
} from '../text/result-sentences';
import { sentence } from '../text/state-sentences';
import { words } from '../text/words';
import { useActions } from './context';
import { contractionName, whenText } from './limb-names';

const SHOWN_ENTRIES = 8;

export function EffortList() {
  const { model } = useActions();
  const entries = useComputed(() => {
    const { contractions, efforts } = model.station.value;
    return resultList({ ...model.station.peek(), contractions, efforts }, SHOWN_ENTRIES);
  });
  return (
    <section class="efforts" aria-label={words.efforts}>
      <h2>{words.efforts}</h2>
      {entries.value.length === 0 && <p class="soft">None yet. The first appears a moment after it ends.</p>}
      <ol class="effort-list" data-testid="efforts">
        {entries.value.map((entry) => (
          <Entry key={entry.key} entry={entry} />
        ))}
      </ol>
    </section>
  );
}

function Entry({ entry }: { readonly entry: ResultEntry }) {
  const actions = useActions();
  const open = useComputed(() => actions.expanded.value === entry.key);
  const state = actions.model.station.peek();
  const phrases = entry.contractions.map((one) => limbPhrase(contractionName(one, state.channels), one));
  const lag = entry.effort && lagSentence(entry.effort);
  return (
    <li class="effort">
      <p class="effort-when">{whenText(state, entry.onsetS)}</p>
      <div class="effort-body">
        <p class="effort-lead">{phrases.join(', ')}.</p>
        {entry.effort && <p>{asymmetrySentence(entry.effort)}</p>}
        {lag && <p>{lag}</p>}
        <Flags entry={entry} />
        <p class="effort-more">
          <button
            type="button"
            class="link"
            aria-expanded={open.value}
            onClick={() => actions.toggleExpanded(entry.key)}
          >
            {open.value ? words.fewerFigures : words.allFigures}
          </button>
          {entry.contractions.map((one) => (
            <button key={one.id} type="button" class="link" onClick={() => actions.openReview(one.id)}>
              {words.lookAt(contractionName(one, state.channels))}
            </button>
          ))}
          {entry.effort?.formula && <Formula text={entry.effort.formula} />}
          <span class="soft">{words.deviceOnly}</span>
        </p>
        {open.value && <AllFigures entry={entry} />}
      </div>
    </li>
  );
}

function Formula({ text }: { readonly text: string }) {
  const open = useSignal(false);
  return (
    <>
      <button
        type="button"
        class="link"
        aria-expanded={open.value}
        onClick={() => {
          open.value = !open.value;
        }}
      >
        {words.formula}
      </button>
      {open.value && <span class="formula">{sentence(text)}</span>}
    </>
  );
}

function Flags({ entry }: { readonly entry: ResultEntry }) {
  const { model } = useActions();
  const channels = model.channels.value;
  const notes = entry.contractions.flatMap((one) => {
    const name = contractionName(one, channels);
    const revision = revisionText(one);
    return [
      ...(revision === undefined ? [] : [`${name}: ${revision}.`]),
      ...one.flags.map((flag) => `${name}: ${flag.text}`),
    ];
  });
  notes.push(...(entry.effort?.flags ?? []).map((flag) => flag.text));
  return (
    <>
      {notes.map((note) => (
        <p key={note} class="note">
          {note}
        </p>
      ))}
    </>
  );
}

/** Every metric with its uncertainty, or why it was not computed. */
function AllFigures({ entry }: { readonly entry: ResultEntry }) {
  const { model } = useActions();
  const channels = model.channels.value;
  const names = entry.contractions.map((one) => contractionName(one, channels));
  return (
    <div class="table-scroll">
      <table>
        <thead>
          <tr>
            <th scope="col">{words.figure}</th>
            {names.map((name) => (
              <th key={name} scope="col">
                {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {metricIds(entry).map((id) => (
            <Row
              key={id}
              name={model.catalog.title(id)}
              cells={entry.contractions.map((one) => metricText(metricOf(one, id)))}
            />
          ))}
          <Row name={words.onsetTime} cells={entry.contractions.map(onsetText)} />
        </tbody>
      </table>
    </div>
  );
}

function Row({ name, cells }: { readonly name: string; readonly cells: readonly string[] }) {
  return (
    <tr>
      <th scope="row">{name}</th>
      {cells.map((cell, i) => (
        <td key={i}>{cell}</td>
      ))}
    </tr>
  );
}

function onsetText({ onsetS, onsetStandardUncertaintyS }: Contraction): string {
  const onset = { value: onsetS, standardUncertainty: onsetStandardUncertaintyS ?? 0, unit: 's' };
  return isKnown(onset) ? writeQuantity(onset) : words.uncertaintyNotKnown;
}
