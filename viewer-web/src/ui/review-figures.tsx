/** All metrics of a contraction, found and by hand side by side; those without a value by the reason why. */

import type { Metric } from '../live/events';
import type { Review } from '../live/review-api';
import { inForce } from '../model/review';
import { quantityOf } from '../text/result-sentences';
import { budgetText, cellText, computedIds, metricIn, reasons } from '../text/review-sentences';
import { sentence } from '../text/state-sentences';
import { words } from '../text/words';
import { useActions } from './context';

export function ReviewFigures({ known }: { readonly known: Review }) {
  const revisions = known.manual === undefined ? [known.automatic] : [known.automatic, known.manual];
  const heads = revisions.length === 1 ? [words.value] : [words.found, words.byHandColumn];
  return (
    <div class="review-figures">
      <table class={revisions.length === 2 ? 'two' : ''}>
        <thead>
          <tr>
            <th scope="col">{words.figure}</th>
            {heads.map((head) => (
              <th key={head} scope="col" class="number">
                {head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {computedIds(revisions).map((id) => (
            <tr key={id}>
              <th scope="row">
                <FigureName id={id} />
              </th>
              {revisions.map((one) => (
                <td key={one.revision} class={hasValue(metricIn(one, id)) ? 'number' : 'number why'}>
                  {cellText(metricIn(one, id))}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
      <ChosenFigure known={known} />
    </div>
  );
}

function hasValue(metric: Metric | undefined): boolean {
  return quantityOf(metric) !== undefined;
}

/** What the chosen figure is, and where its uncertainty comes from. */
function ChosenFigure({ known }: { readonly known: Review }) {
  const { model, review } = useActions();
  const id = review.marked.value;
  const metric = id === undefined ? undefined : metricIn(inForce(known), id);
  const definition = id === undefined ? undefined : model.catalog.definition(id);
  return (
    <div class="chosen soft">
      {id !== undefined && metric !== undefined && (
        <p>
          <strong>{model.catalog.title(id)}.</strong> {definition} {budgetText(metric.budget)}
        </p>
      )}
      <p>
        {words.drawn} {words.deviceOnly}
      </p>
    </div>
  );
}

function FigureName({ id }: { readonly id: string }) {
  const { model, review } = useActions();
  const title = model.catalog.title(id);
  return (
    <button type="button" class="link" aria-pressed={review.marked.value === id} onClick={() => review.mark(id)}>
      {title}
    </button>
  );
}

/** What has no value, gathered under the reason why. */
export function Reasons({ known }: { readonly known: Review }) {
  const { model } = useActions();
  const list = reasons(known.manual === undefined ? [known.automatic] : [known.automatic, known.manual]);
  if (list.length === 0) return null;
  return (
    <section class="reasons" aria-label={words.notComputedHead}>
      <h3>{words.notComputedHead}</h3>
      <ul>
        {list.map(({ reason, ids }) => (
          <li key={reason}>
            <span class="reason">{sentence(reason)}</span> {ids.map((id) => model.catalog.title(id)).join('; ')}
          </li>
        ))}
      </ul>
    </section>
  );
}
