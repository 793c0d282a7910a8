// The only home of Chart.js: a line chart, created once and updated in place. Loaded when first needed.
import { Chart, Legend, LinearScale, LineController, LineElement, type Plugin, PointElement, Tooltip } from 'chart.js';
import { useEffect, useRef } from 'preact/hooks';

Chart.register(LineController, LineElement, PointElement, LinearScale, Legend, Tooltip);

export interface ChartSeries {
  readonly label: string;
  readonly points: readonly { readonly x: number; readonly y: number }[];
  /** drawn as a line without markers */
  readonly bare?: boolean;
  /** drawn as markers without a line */
  readonly scattered?: boolean;
  /** a line to hold the others against: muted, named at its end and not in the legend */
  readonly guide?: boolean;
}

export interface ChartProps {
  readonly title: string;
  readonly xLabel: string;
  readonly yLabel: string;
  readonly series: readonly ChartSeries[];
  readonly xRange?: readonly [number, number];
  readonly yRange?: readonly [number, number];
  readonly wholeX?: boolean;
  readonly xTick?: (x: number) => string;
}

// Series differ by dash and marker as well as by colour.
const dashes = [[], [8, 4], [2, 3], [12, 4, 2, 4], [5, 5], [1, 5]];
const markers = ['circle', 'rect', 'triangle', 'rectRot', 'star', 'crossRot'] as const;

export function LineChart(props: ChartProps) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const chart = useRef<Chart<'line'> | undefined>(undefined);
  const latest = useRef(props);
  latest.current = props;
  useEffect(() => {
    if (canvas.current === null) return undefined;
    chart.current = new Chart(canvas.current, {
      type: 'line',
      data: { datasets: [] },
      plugins: [guidePlugin(() => latest.current.series)],
    });
    return () => chart.current?.destroy();
  }, []);
  useEffect(() => {
    if (chart.current !== undefined && canvas.current !== null) draw(chart.current, canvas.current, props);
  });
  return (
    <div class="chart">
      <canvas ref={canvas} role="img" aria-label={props.title} />
    </div>
  );
}

/** A label no wider than the canvas, beside its line: letters of this font are half as wide as high. */
function fitting(label: string, canvas: HTMLCanvasElement): string {
  const letters = Math.floor((canvas.clientWidth - 60) / 8);
  return label.length > letters ? `${label.slice(0, letters - 1)}…` : label;
}

const colour = (element: Element, name: string): string => getComputedStyle(element).getPropertyValue(name).trim();

function draw(chart: Chart<'line'>, canvas: HTMLCanvasElement, props: ChartProps): void {
  const ink = colour(canvas, '--ink');
  const muted = colour(canvas, '--muted');
  const line = colour(canvas, '--line');
  const colours = [1, 2, 3, 4, 5, 6].map((n) => colour(canvas, `--series-${n}`));
  const font = { family: getComputedStyle(canvas).fontFamily, size: 14 };
  chart.data.datasets = props.series.map((series, i) => ({
    label: fitting(series.label, canvas),
    data: series.points.map((point) => ({ ...point })),
    borderColor: series.guide ? muted : (colours[i % colours.length] ?? ink),
    backgroundColor: series.guide ? muted : (colours[i % colours.length] ?? ink),
    borderWidth: series.guide ? 1 : series.bare ? 1.5 : 2.5,
    borderDash: series.guide ? [4, 4] : (dashes[i % dashes.length] ?? []),
    pointStyle: series.bare || series.guide ? ('line' as const) : (markers[i % markers.length] ?? 'circle'),
    pointRadius: series.bare || series.guide ? 0 : 6,
    showLine: !series.scattered,
    tension: 0,
  }));
  const scale = (text: string) => ({
    type: 'linear' as const,
    title: { display: true, text, color: muted, font },
    grid: { color: line },
    border: { color: line },
  });
  const xTick = props.xTick;
  chart.options = {
    animation: false,
    parsing: false,
    normalized: true,
    responsive: true,
    maintainAspectRatio: false,
    interaction: { mode: 'nearest', intersect: false },
    scales: {
      x: {
        ...scale(props.xLabel),
        ...(props.xRange ? { min: props.xRange[0], max: props.xRange[1] } : {}),
        ticks: {
          color: muted,
          font,
          ...(props.wholeX ? { stepSize: 1, precision: 0 } : {}),
          ...(xTick ? { callback: (value) => xTick(Number(value)) } : {}),
        },
      },
      y: {
        ...scale(props.yLabel),
        ...(props.yRange ? { min: props.yRange[0], max: props.yRange[1] } : {}),
        ticks: { color: muted, font },
      },
    },
    plugins: {
      legend: {
        display: props.series.filter((series) => !series.guide).length > 1,
        labels: {
          color: ink,
          font,
          usePointStyle: true,
          pointStyleWidth: 28,
          filter: (item) => !props.series[item.datasetIndex ?? 0]?.guide,
        },
      },
      tooltip: { titleFont: font, bodyFont: font },
    },
  };
  chart.update('none');
}

function guidePlugin(series: () => readonly ChartSeries[]): Plugin<'line'> {
  return {
    id: 'guides',
    afterDatasetsDraw: (chart) => {
      const { ctx, chartArea, scales } = chart;
      const { x, y } = scales;
      if (x === undefined || y === undefined) return;
      ctx.save();
      ctx.fillStyle = colour(chart.canvas, '--muted');
      ctx.font = `13px ${getComputedStyle(chart.canvas).fontFamily}`;
      ctx.textAlign = 'right';
      for (const guide of series().filter((one) => one.guide)) {
        const last = guide.points.at(-1);
        if (last === undefined) continue;
        const right = Math.min(chartArea.right, x.getPixelForValue(last.x)) - 4;
        ctx.fillText(guide.label, right, Math.max(chartArea.top + 14, y.getPixelForValue(last.y) - 4));
      }
      ctx.restore();
    },
  };
}
