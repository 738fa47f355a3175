/** All metrics of a contraction, found and by hand side by side; those without a value by the reason why. */

import type { Review } from '../live/review-api';
import { cellText, computedIds, metricIn, reasons } from '../text/review-sentences';
import { sentence } from '../text/state-sentences';
import { words } from '../text/words';
import { useActions } from './context';

export function ReviewFigures({ known }: { readonly known: Review }) {
  const revisions = known.manual === undefined ? [known.automatic] : [known.automatic, known.manual];
  const heads = revisions.length === 1 ? [words.value] : [words.found, words.byHandColumn];
  const marked = new Set((known.marks ?? []).map((mark) => mark.id));
  return (
    <div class="review-figures">
      <table>
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
                <FigureName id={id} drawn={marked.has(id)} />
              </th>
              {revisions.map((one) => (
                <td key={one.revision} class="number">
                  {cellText(metricIn(one, id))}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
      <p class="soft">
        {words.drawn} {words.deviceOnly}
      </p>
      <Reasons known={known} />
    </div>
  );
}

/** A figure that is drawn on the trace can be chosen there. */
function FigureName({ id, drawn }: { readonly id: string; readonly drawn: boolean }) {
  const { model, review } = useActions();
  const title = model.catalog.title(id);
  if (!drawn) return <>{title}</>;
  return (
    <button type="button" class="link" aria-pressed={review.marked.value === id} onClick={() => review.mark(id)}>
      {title}
    </button>
  );
}

function Reasons({ known }: { readonly known: Review }) {
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
