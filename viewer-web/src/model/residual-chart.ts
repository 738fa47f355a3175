/** Residuals of a calibration over the load, in a box of 100 by 100 with the origin at the top left. */

import type { GuideResult } from '../live/guide-api';
import type { Tick } from './cell-charts';

export interface ResidualChart {
  readonly dots: readonly { readonly x: number; readonly y: number }[];
  /** Where a later reading lies 95 times of 100. */
  readonly bars: string;
  /** Limit of the interpolation error: grows with the load. */
  readonly limits: string;
  readonly zeroAt: number;
  readonly xTicks: readonly Tick[];
  readonly yTicks: readonly Tick[];
}

/** Dots and bars stand this far from the sides. */
const MARGIN = 4;

export function residualChart(result: GuideResult): ResidualChart | undefined {
  const { loads } = result;
  const [first] = loads;
  const last = loads[loads.length - 1];
  if (first === undefined || last === undefined || first === last) return undefined;
  const share = (result.limitsPercent.interpolation ?? 0) / 100;
  const most = Math.max(Math.abs(first.appliedN), Math.abs(last.appliedN));
  const height =
    1.08 * Math.max(share * most, ...loads.map((one) => Math.abs(one.residualN) + one.expandedUncertaintyN));
  const x = (loadN: number): number =>
    MARGIN + ((loadN - first.appliedN) / (last.appliedN - first.appliedN)) * (100 - 2 * MARGIN);
  const y = (residualN: number): number => 50 - (residualN / height) * 50;
  const at = (loadN: number, residualN: number): string => `${x(loadN).toFixed(2)} ${y(residualN).toFixed(2)}`;
  const zeroN = Math.min(Math.max(first.appliedN, 0), last.appliedN);
  const limits = [1, -1].map((sign) => {
    const points = [first.appliedN, zeroN, last.appliedN].map((loadN) => at(loadN, sign * share * Math.abs(loadN)));
    return `M${points.join('L')}`;
  });
  return {
    dots: loads.map((one) => ({ x: x(one.appliedN), y: y(one.residualN) })),
    bars: loads
      .map((one) => {
        const u = one.expandedUncertaintyN;
        return `M${at(one.appliedN, one.residualN - u)}L${at(one.appliedN, one.residualN + u)}`;
      })
      .join(''),
    limits: limits.join(''),
    zeroAt: y(0),
    xTicks: loads.map((one) => ({ at: x(one.appliedN), value: one.appliedN })),
    yTicks: [-1, -0.5, 0, 0.5, 1].map((part) => ({ at: y(part * height * 0.9), value: part * height * 0.9 })),
  };
}
