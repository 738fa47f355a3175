/** Puts the parts together: socket to model, model to page, frames to acknowledgements. */

import { render } from 'preact';
import 'uplot/dist/uPlot.min.css';
import './ui/tokens.css';
import './ui/base.css';
import './ui/layout.css';
import './ui/parts.css';
import './ui/dialogs.css';
import './ui/review.css';
import './ui/cell.css';
import './ui/guide.css';
import { FrameLoop } from './draw/frame-loop';
import { reviewApi } from './live/review-api';
import { exchangeToken } from './live/session-token';
import { SocketClient } from './live/socket-client';
import { isRefused, stationApi } from './live/station-api';
import { ViewerModel } from './model/viewer-model';
import { App } from './ui/app';
import type { DrawTarget } from './ui/draw-target';
import { listenForKeys } from './ui/keyboard';
import { Theme } from './ui/theme';
import { ViewerActions } from './ui/viewer-actions';

const nowPerfS = (): number => performance.now() / 1000;

async function main(root: HTMLElement): Promise<void> {
  const model = new ViewerModel();
  const actions = new ViewerActions(model, new Theme(), nowPerfS);
  const target: DrawTarget = { draw: undefined };
  const client = new SocketClient(
    {
      open: () => new WebSocket(new URL('ws/live', location.href.replace(/^http/, 'ws').replace(/#.*$/, ''))),
      isRefused,
      nowMs: () => performance.now(),
      random: Math.random,
      later: (work, delayMs) => {
        const timer = setTimeout(work, delayMs);
        return () => clearTimeout(timer);
      },
    },
    {
      onState: (state) => {
        model.connection.value = state;
      },
      onEvent: (event) => {
        model.onEvent(event, nowPerfS());
        if (event.type === 'hello') onHello(model, actions);
      },
      onTrace: (message) => model.onTrace(message, nowPerfS()),
      onBadMessage: () => model.onBadMessage(),
    },
  );
  const frames = new FrameLoop(
    (perfS) => {
      model.onFrame(perfS);
      target.draw?.(perfS);
    },
    () => client.painted(),
  );
  render(<App actions={actions} target={target} />, root);
  listenForKeys(actions);
  frames.start();
  actions.failure.value = await exchangeToken(stationApi.session);
  client.start();
}

function onHello(model: ViewerModel, actions: ViewerActions): void {
  showCautionsOnce(actions);
  void reviewApi.metrics().then((answer) => {
    if (answer.ok) model.catalog.learn(answer.value);
  });
}

/** The cautions come up in each session of the station until they are acknowledged in this browser. */
function showCautionsOnce(actions: ViewerActions): void {
  if (!actions.cautionsAccepted()) actions.open('cautions');
}

const root = document.getElementById('app');
if (root) void main(root);
