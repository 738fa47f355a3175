/** The frame of every dialog. The browser's own dialog keeps the focus and closes on Escape. */

import type { ComponentChildren } from 'preact';
import { useLayoutEffect, useRef } from 'preact/hooks';
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
