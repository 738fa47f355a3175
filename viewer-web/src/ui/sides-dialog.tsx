/** Press one cell, then the other: says whether left is left. */

import { useSignal } from '@preact/signals';
import { BEGIN, step } from '../model/sides-check';
import { words } from '../text/words';
import { Modal } from './modal';
import { CheckButtons, SideLevels, useSides } from './sides';

export function SidesDialog() {
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
      <CheckButtons
        onAgain={() => {
          check.value = { ...BEGIN };
        }}
      />
    </Modal>
  );
}
