/** Hands the model and the actions to every component without threading them through each level. */

import { createContext } from 'preact';
import { useContext } from 'preact/hooks';
import type { ViewerActions } from './viewer-actions';

export const ActionsContext = createContext<ViewerActions | undefined>(undefined);

export function useActions(): ViewerActions {
  const actions = useContext(ActionsContext);
  if (actions === undefined) throw new Error('no ActionsContext around this component');
  return actions;
}
