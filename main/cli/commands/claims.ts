import { findingsOf } from '../../../app/script/claims/findings'
import { openFilms, readingTable } from '../../render/film-plan'
import type { Command } from '../command'
import { FINDINGS, FINE } from '../exit-status'
import { onePath } from '../one-path'
import { openBreakdown } from '../opened'

export const claims: Command = {
  usage: 'claims <project or breakdown.json>',
  summary: 'Open findings on what the script claims; exit status 1 while any blocks.',
  options: { cache: { type: 'string' } },
  async run(input) {
    const opened = await openBreakdown(input, onePath(input, claims))
    const films = await openFilms(opened.breakdown, opened.library, input.progress)
    const found = findingsOf(opened.breakdown, readingTable(opened.breakdown, films))
    if (input.json) input.print(JSON.stringify(found, null, 2))
    else if (found.length === 0) input.print('No open findings.')
    else for (const finding of found) input.print(`${finding.place}: ${finding.problem}\n    “${finding.sentence}”\n    ${finding.wayOut}`)
    return found.length > 0 ? FINDINGS : FINE
  },
}
