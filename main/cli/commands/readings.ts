import type { Reading } from '../../../app/measure/reading'
import { openFilms, readingTable } from '../../render/film-plan'
import type { Command } from '../command'
import { FINE } from '../exit-status'
import { onePath } from '../one-path'
import { openBreakdown } from '../opened'

export const readings: Command = {
  usage: 'readings <project or breakdown.json>',
  summary: 'Every measure with its value, error, verdict and reasons.',
  options: { cache: { type: 'string' } },
  async run(input) {
    const opened = await openBreakdown(input, onePath(input, readings))
    const films = await openFilms(opened.breakdown, opened.library, input.progress)
    const table = [...readingTable(opened.breakdown, films).values()]
    if (input.json) input.print(JSON.stringify(table, null, 2))
    else for (const reading of table) input.print(lineOf(reading))
    return FINE
  },
}

/// "m1   good     apparent rear knee angle, image plane: 142° ± 12°"
const lineOf = (reading: Reading): string => {
  const reasons = reading.reasons.length > 0 ? `  (${reading.reasons.join(', ')})` : ''
  return `${reading.id.padEnd(12)} ${reading.verdict.padEnd(8)} ${reading.label}${reasons}`
}
