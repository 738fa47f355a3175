/** A short piece of a limb's line, as the legend beside its name. */

import { DASH_PX, LINE_WIDTH_PX } from '../draw/trace-layer';

export function LineSample({ line }: { readonly line: 'solid' | 'dashed' }) {
  return (
    <svg class={`line-sample line-${line}`} width="36" height="10" aria-hidden="true" focusable="false">
      <line
        x1="0"
        y1="5"
        x2="36"
        y2="5"
        stroke-width={LINE_WIDTH_PX + 0.75}
        {...(line === 'dashed' ? { 'stroke-dasharray': DASH_PX.join(' ') } : {})}
      />
    </svg>
  );
}
