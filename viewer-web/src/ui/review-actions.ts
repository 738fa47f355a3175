/** What a person can do with one contraction: look at it, go to its neighbours, move its boundaries. */

import { computed, effect, signal } from '@preact/signals';
import { type Answer, type BoundaryRequest, type Review, reviewApi, type Samples } from '../live/review-api';
import {
  type Boundaries,
  type BoundaryName,
  boundariesOf,
  inForce,
  nearestSampleS,
  neighbourId,
  type ReviewViewName,
  sameBoundaries,
  sampleStepS,
  viewOf,
  withBoundary,
} from '../model/review';
import type { ViewerModel } from '../model/viewer-model';

/** A move by keys is sent when no further step has come for so long. */
const SEND_AFTER_MS = 400;
const FIELDS = { onset: 'onsetS', release: 'releaseStartS', offset: 'offsetS' } as const;
/** The metric that is marked strongly at first. */
const FIRST_MARK = 'force.peak';

export class ReviewActions {
  /** The contraction that is looked at; absent while the live trace is shown. */
  readonly id = signal<number | undefined>(undefined);
  readonly review = signal<Review | undefined>(undefined);
  readonly samples = signal<Samples | undefined>(undefined);
  /** Why the last request failed; absent when all is well. */
  readonly failure = signal<string | undefined>(undefined);
  readonly view = signal<ReviewViewName>('whole');
  /** The metric whose mark is drawn strongly. */
  readonly marked = signal<string | undefined>(FIRST_MARK);
  /** Boundaries that are moved but not yet answered for by the station. */
  readonly moving = signal<Boundaries | undefined>(undefined);
  /** The boundary that is to get the focus. */
  readonly wanted = signal<BoundaryName | undefined>(undefined);

  /** Where the boundaries are drawn. */
  readonly boundaries = computed<Boundaries | undefined>(() => {
    const review = this.review.value;
    return this.moving.value ?? (review && boundariesOf(inForce(review)));
  });

  private timer: ReturnType<typeof setTimeout> | undefined;
  private asked = 0;
  private run: string | undefined;
  private lastTold = '';

  constructor(private readonly model: ViewerModel) {
    effect(() => this.followStation());
  }

  /** Looks at a finished contraction. */
  open(id: number): void {
    if (this.id.value === id) return;
    void this.send();
    this.moving.value = undefined;
    this.failure.value = undefined;
    this.samples.value = undefined;
    this.review.value = undefined;
    this.id.value = id;
    void this.load(id);
  }

  close(): void {
    void this.send();
    this.id.value = undefined;
    this.review.value = undefined;
    this.samples.value = undefined;
    this.moving.value = undefined;
    this.view.value = 'whole';
    this.marked.value = FIRST_MARK;
  }

  /** Goes to the contraction before (-1) or after (1). */
  go(direction: 1 | -1): void {
    const id = this.id.value;
    const next = id === undefined ? undefined : neighbourId(this.model.station.value.contractions, id, direction);
    if (next !== undefined) this.open(next);
  }

  /** The other limb's contraction of the same effort. */
  partnerId(): number | undefined {
    const { id } = this;
    // The list of efforts knows it while the contraction is still being asked for: no key is lost.
    const effort =
      this.review.value?.effort ??
      this.model.station.value.efforts.find(
        (e) => e.leftContractionId === id.value || e.rightContractionId === id.value,
      );
    if (effort === undefined) return undefined;
    return effort.leftContractionId === id.value ? effort.rightContractionId : effort.leftContractionId;
  }

  openPartner(): void {
    const partner = this.partnerId();
    if (partner !== undefined) this.open(partner);
  }

  show(view: ReviewViewName): void {
    this.view.value = view;
  }

  mark(id: string): void {
    this.marked.value = this.marked.value === id ? undefined : id;
  }

  /** Brings a boundary near and gives it the focus. */
  reach(name: BoundaryName): void {
    if (this.boundaries.value === undefined || this.samples.value === undefined) return;
    this.view.value = viewOf(name);
    this.wanted.value = name;
  }

  /** Moves a boundary by whole samples. */
  stepSamples(name: BoundaryName, steps: number): void {
    this.moveBy((now, samples) => withBoundary(now, name, sampleStepS(samples, now[name], steps), samples));
  }

  /** Moves a boundary by a time, to the nearest sample. */
  stepTime(name: BoundaryName, byS: number): void {
    this.moveBy((now, samples) => withBoundary(now, name, nearestSampleS(samples, now[name] + byS), samples));
  }

  /** Puts a boundary at the sample nearest to a time; sent when `send` is called. */
  drag(name: BoundaryName, toS: number): void {
    const now = this.boundaries.value;
    const samples = this.samples.value;
    if (now && samples) this.moving.value = withBoundary(now, name, nearestSampleS(samples, toS), samples);
  }

  undo(): void {
    void this.change('undo', (review) => review.undo);
  }

  redo(): void {
    void this.change('redo', (review) => review.redo);
  }

  automatic(): void {
    void this.change('automatic', (review) => review.manual !== undefined);
  }

  /** Sends what was moved; nothing where nothing was. */
  async send(): Promise<void> {
    clearTimeout(this.timer);
    this.timer = undefined;
    const { id, moving, review } = this;
    const to = moving.value;
    if (id.value === undefined || to === undefined || review.value === undefined) return;
    const from = boundariesOf(inForce(review.value));
    if (sameBoundaries(from, to)) {
      moving.value = undefined;
      return;
    }
    const request: Record<string, number> = {};
    for (const name of ['onset', 'release', 'offset'] as const) {
      if (Math.abs(from[name] - to[name]) >= 1e-9) request[FIELDS[name]] = to[name];
    }
    await this.ask(id.value, request, to);
  }

  private moveBy(move: (now: Boundaries, samples: Samples) => Boundaries): void {
    const now = this.boundaries.value;
    const samples = this.samples.value;
    if (now === undefined || samples === undefined) return;
    this.moving.value = move(now, samples);
    clearTimeout(this.timer);
    this.timer = setTimeout(() => void this.send(), SEND_AFTER_MS);
  }

  /** Sends what was moved first; does nothing where there is nothing to take back. */
  private async change(change: 'undo' | 'redo' | 'automatic', possible: (review: Review) => boolean): Promise<void> {
    await this.send();
    const id = this.id.value;
    const review = this.review.value;
    if (id !== undefined && review && possible(review)) await this.ask(id, { change }, this.moving.value);
  }

  private async ask(id: number, request: BoundaryRequest, moved: Boundaries | undefined): Promise<void> {
    const answer = await reviewApi.move(id, request);
    if (this.id.value !== id) return;
    this.failure.value = answer.ok ? undefined : answer.reason;
    // What was moved on meanwhile stays: it is sent in its turn.
    if (this.moving.value === moved) this.moving.value = undefined;
    if (answer.ok) this.review.value = answer.value;
  }

  private async load(id: number): Promise<void> {
    const turn = ++this.asked;
    const answer = await reviewApi.review(id);
    if (!this.isStill(id, turn, answer)) return;
    this.review.value = answer.value;
    if (answer.value.gone !== undefined || this.samples.value !== undefined) return;
    const samples = await reviewApi.samples(id);
    if (this.isStill(id, turn, samples)) this.samples.value = samples.value;
  }

  private isStill<T>(id: number, turn: number, answer: Answer<T>): answer is Extract<Answer<T>, { ok: true }> {
    if (this.id.value !== id || turn !== this.asked) return false;
    if (!answer.ok) this.failure.value = answer.reason;
    return answer.ok;
  }

  /** Another viewer may move a boundary, or the effort be completed: what is shown is asked for again. */
  private followStation(): void {
    const { contractions, efforts, session } = this.model.station.value;
    const id = this.id.peek();
    const review = this.review.peek();
    if (id === undefined) return;
    const run = session && `${session.id} ${session.run}`;
    if (run !== undefined && this.run !== undefined && run !== this.run) this.close();
    this.run = run;
    if (review === undefined) return;
    const event = contractions.find((one) => one.id === id);
    const effort = efforts.find((one) => one.leftContractionId === id || one.rightContractionId === id);
    if (event === undefined) return;
    const told = JSON.stringify([event, effort]);
    if (told === JSON.stringify([inForce(review), review.effort]) || told === this.lastTold) return;
    this.lastTold = told;
    void this.load(id);
  }
}
