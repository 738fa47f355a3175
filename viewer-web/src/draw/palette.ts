/** The colours of the trace, read from the style sheet, so that there is one list of colours for both themes. */

export interface Palette {
  readonly ground: string;
  readonly ink: string;
  readonly inkSoft: string;
  readonly hairline: string;
  readonly limbSolid: string;
  readonly limbDashed: string;
  readonly limbStale: string;
  readonly windowShade: string;
  readonly gapLine: string;
  readonly targetShade: string;
  readonly targetLine: string;
  readonly font: string;
  readonly fontSizePx: number;
}

const COLOURS = {
  ground: '--panel',
  ink: '--ink',
  inkSoft: '--ink-soft',
  hairline: '--hairline',
  limbSolid: '--limb-solid',
  limbDashed: '--limb-dashed',
  limbStale: '--limb-stale',
  windowShade: '--window-shade',
  gapLine: '--gap-line',
  targetShade: '--target-shade',
  targetLine: '--target-line',
} as const;

/** A custom property keeps `light-dark(…)` as text; a real property of a real element gives the colour of the theme. */
export function readPalette(element: HTMLElement): Palette {
  const probe = document.createElement('span');
  element.append(probe);
  const colours = Object.fromEntries(
    Object.entries(COLOURS).map(([name, property]) => {
      probe.style.color = `var(${property})`;
      return [name, getComputedStyle(probe).color];
    }),
  ) as Record<keyof typeof COLOURS, string>;
  probe.remove();
  return { ...colours, font: getComputedStyle(element).fontFamily, fontSizePx: 13 };
}
