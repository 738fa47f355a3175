/** A titled list of names and values. */

import type { Fact } from '../text/cell-sentences';

export function Facts({ title, facts }: { readonly title: string; readonly facts: readonly Fact[] }) {
  return (
    <section class="facts">
      <h3>{title}</h3>
      <dl>
        {facts.map(([name, text]) => (
          <div key={name} class="fact">
            <dt>{name}</dt>
            <dd>{text}</dd>
          </div>
        ))}
      </dl>
    </section>
  );
}
