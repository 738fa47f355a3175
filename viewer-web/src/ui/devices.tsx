/** Devices that a link could name: serial ports of the station's computer and Bluetooth cells in range. */

import { useSignal } from '@preact/signals';
import { type Devices, lookForDevices } from '../live/devices-api';
import { cellFacts, portFacts } from '../text/device-sentences';
import { words } from '../text/words';

export function DevicesInRange() {
  const found = useSignal<Devices | string | undefined>(undefined);
  const looking = useSignal(false);
  const look = async (): Promise<void> => {
    if (looking.value) return;
    looking.value = true;
    found.value = await lookForDevices();
    looking.value = false;
  };
  return (
    <section class="facts devices" aria-busy={looking.value}>
      <h3>{words.devices}</h3>
      <p>{words.devicesLead}</p>
      {/* Not disabled while it looks: that would throw the focus off the button. */}
      <button type="button" aria-disabled={looking.value} onClick={() => void look()}>
        {looking.value ? words.devicesLooking : words.devicesLook}
      </button>
      <div role="status">{found.value !== undefined && !looking.value && <Found found={found.value} />}</div>
    </section>
  );
}

function Found({ found }: { readonly found: Devices | string }) {
  if (typeof found === 'string') return <p class="note">{found}</p>;
  return (
    <>
      {found.cells.length + found.ports.length > 0 && (
        <ul class="device-list">
          {found.cells.map((cell) => (
            <Device key={cell.link} link={cell.link} name={cell.name ?? ''} facts={cellFacts(cell)} />
          ))}
          {found.ports.map((port) => (
            <Device key={port.link} link={port.link} name="" facts={portFacts(port)} />
          ))}
        </ul>
      )}
      {found.cellsReason !== undefined && <p class="note">{words.cellsNotLookedFor(found.cellsReason)}</p>}
      {found.cellsReason === undefined && found.cells.length === 0 && <p class="note">{words.noCells}</p>}
      {found.ports.length === 0 && <p class="note">{words.noPorts}</p>}
    </>
  );
}

function Device({ link, name, facts }: { readonly link: string; readonly name: string; readonly facts: string }) {
  return (
    <li>
      <code>{link}</code>
      <span>{name === '' ? facts : `${name}, ${facts}`}</span>
    </li>
  );
}
