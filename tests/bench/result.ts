import type { Comparison, Extras } from './comparison'

/// One process's answer.
export interface Measured {
  readonly milliseconds: number
  readonly extras: Extras
}

/// What one comparison gave, as it is kept in docs/benchmarks.json.
export interface Result {
  readonly name: string
  readonly question: string
  readonly date: string
  readonly machine: string
  readonly versions: string
  readonly contenders: readonly {
    readonly name: string
    readonly wanted: Comparison['contenders'][0]['wanted'] | null
    /// One a round, in the order run.
    readonly milliseconds: readonly number[]
    /// Medians of what the runs said beside their times.
    readonly extras: Extras
    readonly most?: Comparison['contenders'][0]['most'] | null
    readonly over?: Comparison['contenders'][0]['over'] | null
  }[]
}

/// The middle of the sorted values (of an even number, the upper middle: one that was measured).
export function median(values: readonly number[]): number {
  if (values.length === 0) throw new RangeError('no values')
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!
}

/// Each round's time over the first contender's time in the same round.
export function ratios(of: readonly number[], against: readonly number[]): readonly number[] {
  return of.map((value, round) => value / against[round]!)
}

/// The page that people read, from every result kept.
export function page(results: readonly Result[]): string {
  return [
    '# Benchmarks',
    '',
    'Made by `npm run bench`, which writes this page and `benchmarks.json` beside it; `npm run bench -- NAME` runs one comparison and leaves the others as they are. Every run is a fresh process, and the contenders take turns. Given: the median, with the least and the most in brackets; a ratio is taken within each round, against the first line. These are figures of one machine, not tests.',
    '',
    ...results.flatMap(section),
  ].join('\n')
}

function section(result: Result): string[] {
  const { milliseconds: first, extras: firstExtras } = result.contenders[0]!
  const rows = result.contenders.map(({ name, wanted, milliseconds, extras, most, over }, at) => {
    const ratio = ratios(milliseconds, first)
    const limit = (what: string, value: number): string => {
      if (most?.[what] !== undefined) return ` (at most ${most[what]}: ${reached(value <= most[what])})`
      const above = over?.[what]
      return above === undefined
        ? ''
        : ` (${figure(value - firstExtras[what]!)} over the first, at most ${above}: ${reached(value - firstExtras[what]! <= above)})`
    }
    const beside = Object.entries(extras).map(([what, value]) => `${what}: ${figure(value)}${limit(what, value)}`)
    return `| ${name} | ${spread(milliseconds)} | ${at === 0 ? '1' : spread(ratio)} | ${verdict(wanted ?? null, median(milliseconds), median(ratio))} | ${beside.join('; ')} |`
  })
  return [
    `## ${result.name}`,
    '',
    result.question,
    '',
    '| | time, ms | ratio | wanted | beside |',
    '|---|---|---|---|---|',
    ...rows,
    '',
    `${first.length} rounds, ${result.date}. ${result.machine}. ${result.versions}.`,
    '',
  ]
}

function verdict(wanted: Result['contenders'][0]['wanted'], milliseconds: number, ratio: number): string {
  if (!wanted) return ''
  if ('ratio' in wanted) return `at most ${wanted.ratio}: ${reached(ratio <= wanted.ratio)}`
  return `at most ${wanted.milliseconds} ms: ${reached(milliseconds <= wanted.milliseconds)}`
}

const reached = (was: boolean): string => (was ? 'reached' : '**not reached**')

function spread(values: readonly number[]): string {
  return `${figure(median(values))} (${figure(Math.min(...values))} – ${figure(Math.max(...values))})`
}

/// Three significant figures, whole from 100 on.
function figure(value: number): string {
  return Math.abs(value) >= 100 ? String(Math.round(value)) : String(Number(value.toPrecision(3)))
}
