import { withMinus } from '../../app/measure/minus'
import type { Reading } from '../../app/measure/reading'

const WIDTH = 300

/// A value on a scale: its dot, its 95 % interval as a bar about it, and a few round marks.
export function ErrorBar({ reading }: { readonly reading: Reading }) {
  const { value, low, high } = reading
  if (value === null || low === null || high === null || high <= low) return null
  const reach = (high - low) * 1.2
  const step = roundStep((reach * 2) / 5)
  const [from, to] = [
    Math.floor((Math.min(low, value) - reach / 4) / step) * step,
    Math.ceil((Math.max(high, value) + reach / 4) / step) * step,
  ]
  const x = (at: number): number => 8 + ((WIDTH - 40) * (at - from)) / (to - from)
  const marks = Array.from({ length: Math.round((to - from) / step) + 1 }, (_, i) => from + i * step)
  return (
    <svg className="error-bar" width={WIDTH} height={36} viewBox={`0 0 ${WIDTH} ${36}`} aria-hidden="true">
      <rect x={x(low)} y={4} width={x(high) - x(low)} height={7} rx={3.5} />
      <circle cx={x(value)} cy={7.5} r={5} />
      <path d={`M${x(from)} 18H${x(to)}${marks.map((at) => `M${x(at)} 18v4`).join('')}`} />
      {marks.map((at, i) => (
        <text key={at} x={x(at)} y={33} textAnchor={i === 0 ? 'start' : 'middle'}>
          {withMinus(String(Number(at.toPrecision(6))))}
          {reading.unit === '°' ? '°' : i === marks.length - 1 && reading.unit !== '' ? ` ${reading.unit}` : ''}
        </text>
      ))}
    </svg>
  )
}

/// 1, 2 or 5 times a power of ten, at least `wanted`.
function roundStep(wanted: number): number {
  const power = 10 ** Math.floor(Math.log10(wanted))
  return [1, 2, 5, 10].map((by) => by * power).find((step) => step >= wanted) ?? 10 * power
}
