import type { MeasureKind } from '../project/question'
import { reasons } from './reason'
import { registry } from './registry'

/// The kinds as a page of Markdown, from the registry itself: docs/measurement.md holds it, and a
/// test holds the page to it.
export function kindPage(): string {
  const kinds = Object.values(registry) as readonly {
    kind: MeasureKind
    inputs: string
    formula: string
    source: string
    budget: readonly string[]
    limits: readonly (keyof typeof reasons)[]
    wording: string
  }[]
  const named = (weight: string, limits: readonly (keyof typeof reasons)[]): string =>
    limits
      .filter((code) => reasons[code].weight === weight)
      .map((code) => `\`${code}\``)
      .join(', ')
  return kinds
    .map((k) => {
      const lines = [
        `### ${k.kind}`,
        '',
        `![${k.kind}](figures/${k.kind}.svg)`,
        '',
        `- **Needs** ${k.inputs}.`,
        `- **Formula** ${k.formula}`,
        `- **Source** ${k.source}`,
        `- **Error from** ${k.budget.length > 0 ? k.budget.join(', ') : 'nothing but the bounds named in the formula'}`,
      ]
      const [refuse, range, warn] = [named('refuse', k.limits), named('range', k.limits), named('warn', k.limits)]
      if (refuse) lines.push(`- **Refused for** ${refuse}`)
      if (range) lines.push(`- **Range only for** ${range}`)
      if (warn) lines.push(`- **Warned for** ${warn}`)
      lines.push(`- **Reads** ${k.wording}`)
      return lines.join('\n')
    })
    .join('\n\n')
}

/// The reason codes with their wording and advice, as a Markdown table.
export const reasonPage = (): string =>
  [
    '| code | weight | says | advice |',
    '|---|---|---|---|',
    ...Object.entries(reasons).map(([code, r]) => `| \`${code}\` | ${r.weight} | ${r.wording} | ${r.advice} |`),
  ].join('\n')
