// A double of the station for developing and testing the viewer; it is never shipped.
// It speaks docs/live-protocol.md with synthetic traces and can pretend to be in any state.
//
//   node dev/fake-station.mjs [--port 8475] [--state normal]
//
// POST /dev/state {"name":"lost"} starts a new session in that state; {"name":"lost","keep":true} goes on in it.

import { createReadStream, existsSync, statSync } from 'node:fs';
import { createServer } from 'node:http';
import { extname, join, normalize } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { WebSocketServer } from 'ws';
import { FakeReviews, METRICS } from './fake-review.mjs';
import { FakeSession } from './fake-session.mjs';
import { linkEvent, linksOf, STATES } from './fake-states.mjs';

const DIST = fileURLToPath(new URL('../dist', import.meta.url));
const POLICY = "default-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'; object-src 'none'";
const TYPES = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.svg': 'image/svg+xml',
  '.woff2': 'font/woff2',
  '.txt': 'text/plain; charset=utf-8',
};

export class FakeStation {
  constructor() {
    this.sockets = new Set();
    this.painted = 0;
    this.lastTokens = [];
    this.server = createServer((request, response) => this.onRequest(request, response));
    this.ws = new WebSocketServer({ noServer: true });
    this.server.on('upgrade', (request, socket, head) => this.onUpgrade(request, socket, head));
    this.enter('normal');
    this.timers = [
      setInterval(() => this.flush(), 16),
      setInterval(() => this.send(this.session.levels()), 100),
      setInterval(() => this.everySecond(), 1000),
      setInterval(() => this.everyQuarter(), 250),
    ];
  }

  listen(port) {
    return new Promise((resolve) => this.server.listen(port, '127.0.0.1', () => resolve(this.server.address().port)));
  }

  close() {
    for (const timer of this.timers) clearInterval(timer);
    for (const socket of this.sockets) socket.terminate();
    this.server.closeAllConnections();
    return new Promise((resolve) => this.server.close(resolve));
  }

  enter(name, keep = false) {
    if (!STATES[name]) throw new Error(`unknown state: name=${name}, allowed: ${Object.keys(STATES).join(', ')}`);
    if (keep) {
      this.session.become(name);
    } else {
      this.session = new FakeSession(name, (event) => this.send(event));
      this.reviews = new FakeReviews(this.session);
    }
    if (!keep || this.session.state.down) for (const socket of this.sockets) socket.terminate();
  }

  send(event) {
    const text = JSON.stringify(event);
    for (const socket of this.sockets) socket.send(text);
  }

  flush() {
    const replay = this.session.state.mode === 'replay';
    if (replay && this.session.replay.paused) return;
    const message = this.session.trace();
    if (message) for (const socket of this.sockets) socket.send(message);
    this.session.contractionEvents((event) => this.send(event));
  }

  everySecond() {
    const { session } = this;
    for (let i = 0; i < linksOf(session.state).length; i++) this.send(linkEvent(session.state, i, session));
    if (session.recording.state === 'on') {
      session.setRecording({ ...session.recording, bytes: (session.recording.bytes ?? 0) + 14_200 });
    }
    const figures = (p50) => ({ count: 1000, p50, p95: p50 * 2.1, p99: p50 * 3, max: p50 * 5 });
    this.send({
      type: 'latency',
      arrivalToDecodedMs: figures(0.08),
      arrivalToSentMs: figures(8.2),
      arrivalToPaintedMs: figures(21.4),
    });
    if (session.state.pairs) {
      this.send({ type: 'viewer', delivery: 'reduced', reason: 'this viewer is slow to draw' });
    }
  }

  everyQuarter() {
    if (this.session.state.mode === 'replay') this.send(this.session.replayEvent());
  }

  onUpgrade(request, socket, head) {
    if (this.session.state.refused || this.session.state.down || request.url !== '/ws/live') {
      socket.end(`HTTP/1.1 ${this.session.state.down ? '503 Down' : '403 Forbidden'}\r\nConnection: close\r\n\r\n`);
      return;
    }
    this.ws.handleUpgrade(request, socket, head, (client) => {
      this.sockets.add(client);
      client.on('close', () => this.sockets.delete(client));
      client.on('message', (data) => this.onMessage(data));
      client.send(JSON.stringify(this.session.hello()));
    });
  }

  onMessage(data) {
    const message = JSON.parse(data.toString());
    if (message.type === 'painted' && message.sequence > 0) this.painted++;
  }

  onRequest(request, response) {
    const path = new URL(request.url, 'http://station').pathname;
    response.setHeader('Content-Security-Policy', POLICY);
    if (path.startsWith('/api/') || path.startsWith('/dev/')) {
      let text = '';
      request.on('data', (chunk) => {
        text += chunk;
      });
      request.on('end', () => this.onCall(path, text === '' ? {} : JSON.parse(text), request.method, response));
    } else {
      sendFile(path, response);
    }
  }

  onCall(path, body, method, response) {
    const answer = (status, json) => {
      response.writeHead(status, { 'Content-Type': 'application/json' });
      response.end(status === 204 ? undefined : JSON.stringify(json));
    };
    if (path === '/dev/state') {
      this.enter(body.name, body.keep === true);
      return answer(200, {});
    }
    if (path === '/dev/painted') return answer(200, { painted: this.painted });
    if (path === '/dev/tokens') return answer(200, { tokens: this.lastTokens });
    if (path === '/api/v1/session') {
      this.lastTokens.push(body.token);
      return answer(204);
    }
    if (this.session.state.refused) return answer(403, { error: 'a token is needed' });
    if (this.session.state.down) return answer(503, { error: 'the station is down' });
    return this.onStationCall(path.replace('/api/v1/', ''), body, method, answer);
  }

  onStationCall(resource, body, _method, answer) {
    const { session } = this;
    if (/^cells\/\d+\/check$/.test(resource)) return answer(200, { warnings: [], checks: [], overloads: [] });
    if (resource.startsWith('contractions/')) return this.reviews.onCall(resource, body, answer);
    switch (resource) {
      case 'metrics':
        return answer(200, METRICS);
      case 'station':
        return answer(200, { ...session.hello(), type: undefined });
      case 'zero':
        session.zero(body.channels);
        return answer(202, {});
      case 'recording':
        return this.onRecording(body.action, answer);
      case 'marks': {
        const mark = { type: 'mark', atS: session.nowS(), text: body.text };
        this.send(mark);
        return answer(200, mark);
      }
      case 'target':
        session.target = body.forceN ? { type: 'target', ...body } : undefined;
        this.send(session.target ?? { type: 'target' });
        return answer(200, session.target ?? { type: 'target' });
      case 'trials':
        session.trials = body;
        this.send({ type: 'trials', ...body });
        return answer(200, { type: 'trials', ...body });
      case 'replay':
        if (session.state.mode !== 'replay') return answer(409, { error: 'this is no replay' });
        session.control(body);
        if (body.restart) this.send(session.hello());
        this.send(session.replayEvent());
        return answer(200, session.replayEvent());
      default:
        return answer(404, { error: `no such resource: ${resource}` });
    }
  }

  onRecording(action, answer) {
    const { session } = this;
    if (session.recording.state === 'failed' && action === 'start') {
      return answer(503, { error: 'no space left on the disk' });
    }
    const file = '2026-01-02T101512.pcapng';
    session.setRecording(
      action === 'start'
        ? { type: 'recording', state: 'on', file, bytes: 0, sinceS: session.nowS(), complete: true }
        : { type: 'recording', state: 'off', file, bytes: session.recording.bytes ?? 0, complete: true },
    );
    return answer(200, session.recording);
  }
}

function sendFile(path, response) {
  const file = join(DIST, normalize(path === '/' ? '/index.html' : path));
  if (!file.startsWith(DIST) || !existsSync(file) || !statSync(file).isFile()) {
    response.writeHead(404).end();
    return;
  }
  response.writeHead(200, { 'Content-Type': TYPES[extname(file)] ?? 'application/octet-stream' });
  createReadStream(file).pipe(response);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const { values } = parseArgs({ options: { port: { type: 'string' }, state: { type: 'string' } } });
  const station = new FakeStation();
  if (values.state) station.enter(values.state);
  console.log(`http://127.0.0.1:${await station.listen(Number(values.port ?? 8475))}/`);
}
