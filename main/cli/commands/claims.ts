import { classesInWords, evidenceInWords } from '../../../app/script/claims/class-words'
import { holdsBack } from '../../../app/script/claims/finding'
import { findingsOf } from '../../../app/script/claims/findings'
import { statedClaims } from '../../../app/script/claims/stated-claim'
import { openFilms, readingTable } from '../../render/film-plan'
import type { Command } from '../command'
import { FINDINGS, FINE } from '../exit-status'
import { onePath } from '../one-path'
import { openBreakdown } from '../opened'

export const claims: Command = {
  usage: 'claims <project or breakdown.json>',
  summary: 'Every claim with its classes and evidence, and the findings on them; exit status 1 while any holds the film back.',
  options: { cache: { type: 'string' } },
  async run(input) {
    const opened = await openBreakdown(input, onePath(input, claims))
    const readings = readingTable(opened.breakdown, await openFilms(opened.breakdown, opened.library, input.progress))
    const stated = statedClaims(opened.breakdown, readings)
    const findings = findingsOf(opened.breakdown, readings)
    const open = findings.filter(holdsBack)
    if (input.json) {
      const claimed = stated.claims.map(({ saying, classes, state, evidence }) => ({ place: saying.place, paragraph: saying.paragraph, on: saying.on, sentence: saying.shown, classes, state, evidence }))
      input.print(JSON.stringify({ claims: claimed, lost: stated.lost, findings }, null, 2))
    } else {
      for (const { saying, classes, state, evidence } of stated.claims)
        input.print(`${classes.join('')}  ${saying.shown}\n    ${[classesInWords(classes), state === 'to-confirm' ? 'to be confirmed' : state, ...evidence.map(evidenceInWords)].join('; ')}`)
      for (const { place, problem, wayOut, sentence, override, holds } of findings)
        input.print(`${place}: ${problem}${override ? ` (let stand by ${override.by}: ${override.reason})` : holds ? '' : ' (does not hold the film back)'}${sentence ? `\n    “${sentence}”` : ''}\n    ${wayOut}`)
      input.print(open.length === 0 ? 'Nothing holds the film back.' : `${open.length} open: the film is held back.`)
    }
    return open.length > 0 ? FINDINGS : FINE
  },
}
