/** The frame of every dialog. The browser's own dialog keeps the focus and closes on Escape. */

import type { ComponentChildren } from 'preact';
import { useLayoutEffect, useRef } from 'preact/hooks';
import { words } from '../text/words';
import { useActions } from './context';

export function Modal({ title, children, wide }: { title: string; children: ComponentChildren; wide?: boolean }) {
  const actions = useActions();
  const dialog = useRef<HTMLDialogElement>(null);
  const shown = useRef(true);
  // Before the next key can come: an effect after the painting would leave it to the page behind.
  useLayoutEffect(() => {
    const element = dialog.current;
    const before = document.activeElement;
    element?.showModal();
    return () => {
      shown.current = false;
      // A dialog that is only taken off the page gives the focus back to nobody.
      element?.close();
      if (before instanceof HTMLElement && before.isConnected) before.focus();
    };
  }, []);
  // The browser tells of a close a moment after the key that caused it. By then another dialog may have been asked for.
  const onClose = (): void => {
    if (shown.current) actions.close();
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.key !== 'Escape') return;
    event.preventDefault();
    actions.close();
  };
  return (
    <dialog
      ref={dialog}
      class={wide ? 'wide' : ''}
      aria-labelledby="dialog-title"
      onClose={onClose}
      onKeyDown={onKeyDown}
    >
      <h2 id="dialog-title">{title}</h2>
      {children}
    </dialog>
  );
}

/** The end of a form in a dialog: what it does, and the way out without it. */
export function DialogButtons({ accept, children }: { accept: string; children?: ComponentChildren }) {
  const actions = useActions();
  return (
    <div class="buttons end">
      {children}
      <button type="button" class="quiet" onClick={() => actions.close()}>
        {words.cancel}
      </button>
      <button type="submit" class="filled">
        {accept}
      </button>
    </div>
  );
}
