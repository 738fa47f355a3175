/** Names of the metrics for people. An id that is not listed is shown as it is: better a plain id than a guess. */

const NAMES: Readonly<Record<string, string>> = {
  'force.peak': 'Peak force (highest 100 ms mean)',
  'force.peak.sample': 'Highest single sample',
  'force.mean.best-1s': 'Best mean over 1 s',
  'force.mean.best-3s': 'Best mean over 3 s',
  'force.mean': 'Mean force',
  'force.at-50ms': 'Force 50 ms after onset',
  'force.at-100ms': 'Force 100 ms after onset',
  'force.at-150ms': 'Force 150 ms after onset',
  'force.at-200ms': 'Force 200 ms after onset',
  'force.at-250ms': 'Force 250 ms after onset',
  'force.resting': 'Resting level before onset',
  'time.to-peak': 'Time to peak',
  'rfd.0-50ms': 'Rate of force development, 0 to 50 ms',
  'rfd.0-100ms': 'Rate of force development, 0 to 100 ms',
  'rfd.0-150ms': 'Rate of force development, 0 to 150 ms',
  'rfd.0-200ms': 'Rate of force development, 0 to 200 ms',
  'rfd.0-250ms': 'Rate of force development, 0 to 250 ms',
  'rfd.peak-20ms': 'Highest rate of force development over 20 ms',
  'impulse.0-100ms': 'Impulse, 0 to 100 ms',
  'impulse.0-200ms': 'Impulse, 0 to 200 ms',
  'impulse.total': 'Impulse above the resting level',
  'steadiness.cv': 'Steadiness (coefficient of variation)',
  duration: 'Duration',
  'torque.peak': 'Peak torque',
  'force.peak.per-kg': 'Peak force per kilogram',
  'torque.peak.per-kg': 'Peak torque per kilogram',
  'asymmetry.log': 'Left against right, 100\u00a0ln(L/R)',
};

export function metricName(id: string): string {
  return NAMES[id] ?? id;
}
