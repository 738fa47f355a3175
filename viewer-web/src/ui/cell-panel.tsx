/** One cell, in the place of the live trace, for whoever wires it: how it reads, and what is not as it should be. */

import { useEffect, useRef } from 'preact/hooks';
import type { CellReport } from '../live/cell-api';
import { type Chart, driftChart, histogramChart, spectrumChart } from '../model/cell-charts';
import { axisText, distributionText, type Fact, humText, noiseFacts, rangeFacts } from '../text/cell-sentences';
import { words } from '../text/words';
import { CellCalibrations } from './cell-calibrations';
import { CellCheck } from './cell-check';
import { useActions } from './context';
import { Facts } from './facts';
import { channelName } from './limb-names';

export function CellPanel() {
  const actions = useActions();
  const { cell, model } = actions;
  const section = useRef<HTMLElement>(null);
  const report = cell.report.value;
  const channel = model.channels.value.find((one) => one.channel === cell.channel.value);
  useEffect(() => section.current?.focus(), []);
  return (
    <section class="trace cell" id="trace" ref={section} tabIndex={-1} aria-label={words.cell}>
      <div class="review-head">
        <h2 class="review-title">{words.cellOf(channel === undefined ? '' : channelName(channel))}</h2>
        <p class="cell-link soft">{report?.link}</p>
        <button type="button" onClick={() => actions.closeCell()}>
          {words.toTrace}
        </button>
      </div>
      <p role="status">{cell.failure.value ?? (report === undefined ? words.loading : '')}</p>
      {cell.channel.value !== undefined && <CellCalibrations channel={cell.channel.value} />}
      {cell.channel.value !== undefined && <CellCheck channel={cell.channel.value} />}
      {report && <CellReportView report={report} />}
    </section>
  );
}

function CellReportView({ report }: { readonly report: CellReport }) {
  return (
    <>
      <Advice report={report} />
      <div class="cell-body">
        <Facts title={words.cellReads} facts={rangeFacts(report)} />
        <Facts title={words.cellNoise} facts={noiseFacts(report)} />
        <Spectrum report={report} />
        <Drift report={report} />
        <Arrivals report={report} />
      </div>
      <p class="soft">{words.cellLead}</p>
    </>
  );
}

function Advice({ report }: { readonly report: CellReport }) {
  return (
    <div class="cell-advice">
      {report.advice.length === 0 ? (
        <p>{words.cellSound}</p>
      ) : (
        <ul>
          {report.advice.map((one) => (
            <li key={one.id}>{one.text}</li>
          ))}
        </ul>
      )}
    </div>
  );
}

function Spectrum({ report }: { readonly report: CellReport }) {
  const chart = report.spectrum && spectrumChart(report.spectrum, report.unitPerCount);
  return (
    <ChartSection
      title={words.cellSpectrum}
      yLabel={`${report.unit === 'N' ? 'N' : 'counts'}/\u221aHz`}
      xLabel="Hz"
      chart={chart}
      facts={[[words.cellHum, humText(report)]]}
    />
  );
}

function Drift({ report }: { readonly report: CellReport }) {
  return (
    <ChartSection
      title={words.cellDrift}
      yLabel={report.unit === 'N' ? 'N' : 'counts'}
      xLabel="s"
      chart={driftChart(report.drift, report.unitPerCount)}
      facts={[]}
    />
  );
}

function Arrivals({ report }: { readonly report: CellReport }) {
  const { intervals, delays } = report.arrivals;
  return (
    <>
      <ChartSection
        title={words.cellIntervals}
        yLabel=""
        xLabel="ms"
        chart={histogramChart(intervals)}
        filled
        facts={[[words.cellIntervals, distributionText(intervals)]]}
      />
      <ChartSection
        title={words.cellDelays}
        yLabel=""
        xLabel="ms"
        chart={histogramChart(delays)}
        filled
        facts={[[words.cellDelays, distributionText(delays)]]}
      />
    </>
  );
}

interface ChartProps {
  readonly title: string;
  readonly yLabel: string;
  readonly xLabel: string;
  readonly chart: Chart | undefined;
  readonly filled?: boolean;
  readonly facts: readonly Fact[];
}

/** A small chart; what it shows is said in words below it. */
function ChartSection({ title, yLabel, xLabel, chart, filled, facts }: ChartProps) {
  return (
    <section class="facts cell-chart">
      <h3>
        {title}
        {yLabel !== '' && <span class="soft"> / {yLabel}</span>}
      </h3>
      {chart === undefined ? (
        <p class="note">{words.notEnoughYet}</p>
      ) : (
        <div class="chart" aria-hidden="true">
          <svg viewBox="0 0 100 100" preserveAspectRatio="none" role="presentation">
            <title>{title}</title>
            {chart.yTicks.map((tick) => (
              <path key={tick.value} class="chart-grid" d={`M0 ${tick.at.toFixed(2)}H100`} />
            ))}
            {chart.xTicks.map((tick) => (
              <path key={tick.value} class="chart-grid" d={`M${tick.at.toFixed(2)} 0V100`} />
            ))}
            <path class={filled ? 'chart-bars' : 'chart-line'} d={chart.path} />
          </svg>
          {chart.yTicks.map((tick) => (
            <span key={tick.value} class="chart-y" style={{ top: `${tick.at}%` }}>
              {axisText(tick.value)}
            </span>
          ))}
          {chart.xTicks.map((tick) => (
            <span key={tick.value} class="chart-x" style={{ left: `${tick.at}%` }}>
              {axisText(tick.value)}
            </span>
          ))}
          <span class="chart-unit">{xLabel}</span>
        </div>
      )}
      {facts.map(([name, text]) => (
        <p key={name} class="chart-fact">
          {text}
        </p>
      ))}
    </section>
  );
}
