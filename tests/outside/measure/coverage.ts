import type { Reading, Verdict } from '../../../app/measure/reading'

/// Counts how often a reading's 95 % interval holds the truth.

export interface Score {
  readonly kind: string
  readonly given: number
  readonly inside: number
  readonly refused: number
  /// Median U of the readings that gave a value.
  readonly medianU: number
  /// 95th percentile of |reading − truth| of the same.
  readonly error95: number
  readonly byVerdict: ReadonlyMap<Verdict, { readonly given: number; readonly inside: number }>
}

interface Taken {
  readonly verdict: Verdict
  readonly U: number
  readonly error: number
  readonly inside: boolean
}

export class Coverage {
  private readonly taken = new Map<string, Taken[]>()
  private readonly refusals = new Map<string, number>()

  /// Notes one reading against its truth. `period` is set for values that wrap.
  note(name: string, reading: Reading, truth: number, period?: number): void {
    if (reading.value === null || reading.low === null || reading.high === null || reading.U === null) {
      this.refusals.set(name, (this.refusals.get(name) ?? 0) + 1)
      return
    }
    const nearest = period === undefined ? truth : truth + period * Math.round((reading.value - truth) / period)
    const slack = 1e-9 * Math.max(1, Math.abs(nearest))
    const list = this.taken.get(name) ?? []
    this.taken.set(name, list)
    list.push({
      verdict: reading.verdict,
      U: reading.U,
      error: Math.abs(reading.value - nearest),
      inside: nearest >= reading.low - slack && nearest <= reading.high + slack,
    })
  }

  names(): string[] {
    return [...new Set([...this.taken.keys(), ...this.refusals.keys()])].sort()
  }

  score(name: string): Score {
    const list = this.taken.get(name) ?? []
    const byVerdict = new Map<Verdict, { given: number; inside: number }>()
    for (const t of list) {
      const known = byVerdict.get(t.verdict) ?? { given: 0, inside: 0 }
      byVerdict.set(t.verdict, { given: known.given + 1, inside: known.inside + (t.inside ? 1 : 0) })
    }
    return {
      kind: name,
      given: list.length,
      inside: list.filter((t) => t.inside).length / list.length,
      refused: this.refusals.get(name) ?? 0,
      medianU: quantile(
        list.map((t) => t.U),
        0.5,
      ),
      error95: quantile(
        list.map((t) => t.error),
        0.95,
      ),
      byVerdict: new Map([...byVerdict].map(([v, { given, inside }]) => [v, { given, inside: inside / given }])),
    }
  }

  /// The 95th percentile of errors of one name.
  error95(name: string): number {
    return quantile(
      (this.taken.get(name) ?? []).map((t) => t.error),
      0.95,
    )
  }

  /// One line per name, for the run's own log.
  table(): string {
    return this.names()
      .map((name) => {
        const s = this.score(name)
        const verdicts = [...s.byVerdict].map(([v, { given, inside }]) => `${v} ${(100 * inside).toFixed(1)} % of ${given}`).join(', ')
        return `${name}: ${(100 * s.inside).toFixed(1)} % of ${s.given} inside, ${s.refused} refused; median U ${s.medianU.toPrecision(3)}, 95 % of errors below ${s.error95.toPrecision(3)} (${verdicts})`
      })
      .join('\n')
  }
}

export function quantile(values: readonly number[], p: number): number {
  const sorted = [...values].sort((a, b) => a - b)
  return sorted[Math.min(sorted.length - 1, Math.floor(p * sorted.length))] ?? NaN
}
