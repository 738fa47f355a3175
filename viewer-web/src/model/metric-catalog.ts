/** What the station says of its metrics; an id that it has not named is shown as it is. */

import { signal } from '@preact/signals';
import type { MetricText } from '../live/review-api';

export class MetricCatalog {
  private readonly texts = signal<ReadonlyMap<string, MetricText>>(new Map());

  learn(list: readonly MetricText[]): void {
    this.texts.value = new Map(list.map((text) => [text.id, text]));
  }

  title(id: string): string {
    return this.texts.value.get(id)?.title ?? id;
  }

  definition(id: string): string | undefined {
    return this.texts.value.get(id)?.definition;
  }
}
