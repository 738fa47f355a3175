/** One knock on both cells: by how much one link delays more than the other. */

import type { ComponentChildren } from 'preact';
import { tapSentence, writeMs, writeOffsetMs } from '../text/tap-sentences';
import { words } from '../text/words';
import { useActions } from './context';
import { Modal } from './modal';

export function TapDialog() {
  const actions = useActions();
  const { tap } = actions.model.station.value;
  const waits = tap?.state === 'listening';
  const counts = tap?.count !== undefined && tap.count > 0 ? tap : undefined;
  return (
    <Modal title={words.tap}>
      <p>{words.tapLead}</p>
      <p class="sides-step" role="status">
        {tapSentence(tap)}
      </p>
      {counts && (
        <dl class="sides">
          <Fact name={words.tapCount}>{counts.count}</Fact>
          {counts.offset && <Fact name={words.tapOffset}>{writeOffsetMs(counts.offset)}</Fact>}
          {counts.standardDeviationS !== undefined && (
            <Fact name={words.tapScatter}>{writeMs(counts.standardDeviationS)}</Fact>
          )}
          {counts.clocksStandardUncertaintyS !== undefined && (
            <Fact name={words.tapClocks}>{writeMs(counts.clocksStandardUncertaintyS)}</Fact>
          )}
          {counts.untiedStandardUncertaintyS !== undefined && (
            <Fact name={words.tapUntied}>{writeMs(counts.untiedStandardUncertaintyS)}</Fact>
          )}
        </dl>
      )}
      {counts && <p>{words.tapLasts}</p>}
      <div class="buttons end">
        {counts && (
          <button type="button" class="quiet" onClick={() => actions.tap(true)}>
            {words.tapForget}
          </button>
        )}
        <button type="button" class="quiet" onClick={() => actions.close()}>
          {words.close}
        </button>
        <button type="button" class="filled" disabled={waits} onClick={() => actions.tap()}>
          {counts ? words.tapAgain : words.tapBegin}
        </button>
      </div>
    </Modal>
  );
}

function Fact({ name, children }: { readonly name: string; readonly children: ComponentChildren }) {
  return (
    <div class="fact">
      <dt>{name}</dt>
      <dd>{children}</dd>
    </div>
  );
}
