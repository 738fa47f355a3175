/** One mass on the left cell, then on the right one: by how much they differ, and the setting that says so. */

import { useSignal } from '@preact/signals';
import { writeFixed, writeQuantity } from '../format/quantity';
import { BEGIN_COMPARE, type Comparison, comparison, type Reading, stepCompare } from '../model/cells-compare';
import { words } from '../text/words';
import { Modal } from './modal';
import { CheckButtons, SideLevels, useSides } from './sides';

export function CompareDialog() {
  const now = useSignal(BEGIN_COMPARE);
  const levels = useSides((next) => {
    now.value = stepCompare(now.peek(), next);
  });
  const { load, readings } = now.value;
  const result = comparison(now.value);
  return (
    <Modal title={words.compare}>
      <p>{words.compareLead}</p>
      <p class="sides-step" role="status">
        {levels === undefined
          ? words.sidesNeed
          : result
            ? resultText(result)
            : load
              ? words.compareLoad(load)
              : words.compareOff}
      </p>
      {levels && <SideLevels levels={levels} />}
      <dl class="sides">
        <ReadingFact name="left" reading={readings.left} />
        <ReadingFact name="right" reading={readings.right} />
      </dl>
      {result && (
        <p>
          {words.compareSetting} <code>--set cells.mismatchPercent={settingText(result)}</code>
        </p>
      )}
      <CheckButtons
        onAgain={() => {
          now.value = { ...BEGIN_COMPARE };
        }}
      />
    </Modal>
  );
}

function ReadingFact({ name, reading }: { readonly name: string; readonly reading: Reading | undefined }) {
  return (
    <div class="fact">
      <dt>{words.compareReading(name)}</dt>
      <dd>
        {reading === undefined
          ? words.noForce
          : writeQuantity({ value: reading.forceN, standardUncertainty: reading.scatterN, unit: 'N' })}
      </dd>
    </div>
  );
}

function resultText(result: Comparison): string {
  const quantity = { value: result.differencePercent, standardUncertainty: result.differenceUPercent, unit: '%' };
  return words.compareResult(writeQuantity(quantity));
}

/** Rounded up: an uncertainty that is stated too small is none. */
function settingText(result: Comparison): string {
  return writeFixed(Math.ceil(result.mismatchPercent * 100) / 100, 2);
}
