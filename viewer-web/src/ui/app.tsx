/** The page. */

import { useComputed } from '@preact/signals';
import { words } from '../text/words';
import { CellPanel } from './cell-panel';
import { ActionsContext, useActions } from './context';
import { Dialogs } from './dialogs';
import type { DrawTarget } from './draw-target';
import { EffortList } from './effort-list';
import { GuidePanel } from './guide-panel';
import { LimbFigure } from './limb-figure';
import { LinkHealth } from './link-health';
import { InventedNote, Masthead } from './masthead';
import { ReplayBar } from './replay-bar';
import { ReviewPanel } from './review-panel';
import { Statements } from './statements';
import { StationControls } from './station-controls';
import { TracePanel } from './trace-panel';
import type { ViewerActions } from './viewer-actions';

export function App({ actions, target }: { readonly actions: ViewerActions; readonly target: DrawTarget }) {
  return (
    <ActionsContext.Provider value={actions}>
      <a class="skip" href="#trace">
        {words.skip}
      </a>
      <Masthead />
      <InventedNote />
      <Statements />
      <main class="page">
        <TraceOrReview target={target} />
        <Figures />
        <div class="station">
          <StationControls />
          <ReplayBar />
        </div>
        <EffortList />
        <LinkHealth />
      </main>
      <Foot />
      <Dialogs />
    </ActionsContext.Provider>
  );
}

/** The live trace, or in its place one contraction or one cell. */
function TraceOrReview({ target }: { readonly target: DrawTarget }) {
  const { cell, guide, review } = useActions();
  if (guide.open.value) return <GuidePanel />;
  if (cell.channel.value !== undefined) return <CellPanel />;
  return review.id.value === undefined ? <TracePanel target={target} /> : <ReviewPanel />;
}

function Figures() {
  const { model } = useActions();
  const shown = useComputed(() => model.shown.value);
  return (
    <div class="figures">
      {shown.value.map((one) => (
        <LimbFigure key={one.channel.channel} shown={one} />
      ))}
    </div>
  );
}

function Foot() {
  const { model } = useActions();
  const version = useComputed(() => model.station.value.session?.version);
  return (
    <footer class="foot">
      <p>
        {words.notMedical} {words.deviceOnly}
      </p>
      <p>
        {version.value !== undefined && `${words.product} ${version.value}. `}
        <a href="./third-party.txt">{words.licences}</a>
      </p>
    </footer>
  );
}
