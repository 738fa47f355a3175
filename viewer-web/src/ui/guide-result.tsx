/** What a guided calibration found: verdict, figures of each load, residuals; save, certificate. */

import { CERTIFICATE, type Guide, type GuideResult } from '../live/guide-api';
import { residualChart } from '../model/residual-chart';
import { axisText } from '../text/cell-sentences';
import { FIGURES, guideWords, isBeyond, loadText, percentText, sizeText } from '../text/guide-sentences';
import { useActions } from './context';
import { CancelButton, UndoButton } from './guide-panel';

export function GuideResultView({ guide }: { readonly guide: Guide }) {
  return (
    <div data-testid="guide-result">
      {guide.result === undefined ? (
        <div class="cell-advice" role="alert">
          <p>
            {guideWords.notGiven} {guide.refused}.
          </p>
        </div>
      ) : (
        <>
          <Buttons guide={guide} />
          <Verdict result={guide.result} />
          <Loads guide={guide} result={guide.result} />
          <Residuals result={guide.result} />
        </>
      )}
      {guide.saved === '' && (
        <div class="buttons">
          <UndoButton />
          <CancelButton />
        </div>
      )}
    </div>
  );
}

function Buttons({ guide }: { readonly guide: Guide }) {
  const actions = useActions();
  const saved = guide.saved !== '';
  return (
    <>
      {saved && (
        <p data-testid="guide-saved">
          {guideWords.savedAs(guide.saved)}. {guide.usedAtOnce === false ? guideWords.savedLater : guideWords.savedUsed}
        </p>
      )}
      <div class="buttons">
        {saved ? (
          <button type="button" class="filled" onClick={() => void actions.finishGuide()}>
            {guideWords.finish}
          </button>
        ) : (
          <button type="button" class="filled" onClick={() => void actions.guide.save()}>
            {guideWords.save}
          </button>
        )}
        {(['pdf', 'html'] as const).map((kind) => (
          <a
            key={kind}
            class="guide-download"
            href={`${CERTIFICATE}${kind}`}
            download={`calibration-certificate.${kind}`}
          >
            {guideWords.certificate} ({kind.toUpperCase()})
          </a>
        ))}
      </div>
    </>
  );
}

function Verdict({ result }: { readonly result: GuideResult }) {
  const said = [...result.beyondLimits, ...result.notes];
  return (
    <div class="cell-advice">
      {result.beyondLimits.length === 0 && <p>{guideWords.fits}</p>}
      {said.length > 0 && (
        <ul>
          {said.map((one) => (
            <li key={one}>{one}</li>
          ))}
        </ul>
      )}
      <p class="soft">{guideWords.noConformity}</p>
    </div>
  );
}

function Loads({ guide, result }: { readonly guide: Guide; readonly result: GuideResult }) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls, and the keys must reach it
    <section class="table-scroll" tabIndex={0} aria-label={guideWords.result}>
      <table class="guide-table">
        <thead>
          <tr>
            <th scope="col">load</th>
            <th scope="col">load / N</th>
            <th scope="col">reading less curve / N</th>
            <th scope="col">uncertainty, 95 % / N</th>
            {FIGURES.map((figure) => (
              <th scope="col" key={figure.key}>
                {figure.title} / % <span class="soft">{figure.term}</span>
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {result.loads.map((load) => (
            <tr key={load.applied}>
              <th scope="row">{loadText(load.applied, guide.plan.unit)}</th>
              <td>{sizeText(load.appliedN, load.expandedUncertaintyN)}</td>
              <td>{sizeText(load.residualN, load.expandedUncertaintyN)}</td>
              <td>{sizeText(load.expandedUncertaintyN)}</td>
              {FIGURES.map((figure) => (
                <td
                  key={figure.key}
                  class={isBeyond(load, figure.key, result.limitsPercent[figure.limit]) ? 'guide-beyond' : ''}
                >
                  {percentText(load[figure.key])}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

function Residuals({ result }: { readonly result: GuideResult }) {
  const chart = residualChart(result);
  if (chart === undefined) return null;
  return (
    <section class="facts cell-chart">
      <h3>
        {guideWords.residuals}
        <span class="soft"> / N</span>
      </h3>
      <div class="chart" aria-hidden="true">
        <svg viewBox="0 0 100 100" preserveAspectRatio="none" role="presentation">
          <title>{guideWords.residuals}</title>
          {chart.yTicks.map((tick) => (
            <path key={tick.value} class="chart-grid" d={`M0 ${tick.at.toFixed(2)}H100`} />
          ))}
          <path class="chart-limit" d={chart.limits} />
          <path class="chart-line" d={chart.bars} />
        </svg>
        {chart.dots.map((dot) => (
          <span key={dot.x} class="chart-dot" style={{ left: `${dot.x}%`, top: `${dot.y}%` }} />
        ))}
        {chart.yTicks.map((tick) => (
          <span key={tick.value} class="chart-y" style={{ top: `${tick.at}%` }}>
            {sizeText(tick.value, chart.yTicks[4]?.value)}
          </span>
        ))}
        {chart.xTicks.map((tick) => (
          <span key={tick.value} class="chart-x" style={{ left: `${tick.at}%` }}>
            {axisText(Math.round(tick.value))}
          </span>
        ))}
        <span class="chart-unit">N</span>
      </div>
      <p class="chart-fact">{guideWords.residualsSay}</p>
    </section>
  );
}
