/** Press one cell, then the other: says whether left is left. */

import { useSignal } from '@preact/signals';
import { BEGIN, step } from '../model/sides-check';
import { words } from '../text/words';
import { useActions } from './context';
import { Modal } from './modal';
import { SideLevels, useSides } from './sides';

export function SidesDialog() {
  const actions = useActions();
  const check = useSignal(BEGIN);
  const levels = useSides((now) => {
    check.value = step(check.peek(), now);
  });
  const { press, verdict } = check.value;
  const text = verdict !== undefined ? words.sidesVerdict[verdict] : press ? words.sidesPress(press) : words.sidesLetGo;
  return (
    <Modal title={words.sides}>
      <p>{words.sidesLead}</p>
      <p class="sides-step" role="status">
        {levels === undefined ? words.sidesNeed : text}
      </p>
      {levels && <SideLevels levels={levels} />}
      <div class="buttons end">
        <button type="button" class="quiet" onClick={() => (check.value = { ...BEGIN })}>
          {words.sidesAgain}
        </button>
        <button type="button" class="filled" onClick={() => actions.close()}>
          {words.close}
        </button>
      </div>
    </Modal>
  );
}
