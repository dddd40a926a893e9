import { byHandInWords, classesInWords, evidenceInWords } from '../../../app/script/claims/class-words'
import { holdsBack } from '../../../app/script/claims/finding'
import { findingsOf } from '../../../app/script/claims/findings'
import { recordNames } from '../../../app/script/claims/record-names'
import { statedClaims } from '../../../app/script/claims/stated-claim'
import { noticeFindings } from '../../../app/release/notices'
import { filmFaces } from '../../render/faces'
import { openFilms, programmeOf, readingTable } from '../../render/film-plan'
import { findTakes } from '../../render/takes'
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
    const [faces, takes, films] = await Promise.all([
      filmFaces(),
      findTakes(opened.breakdown, opened),
      openFilms(opened.breakdown, opened.library, input.progress),
    ])
    const readings = readingTable(opened.breakdown, films)
    const notices = noticeFindings(programmeOf(opened.breakdown, films, readings, takes, faces.typeface), opened.breakdown)
    const names = recordNames(opened.breakdown, readings)
    const stated = statedClaims(opened.breakdown, readings)
    const findings = findingsOf(opened.breakdown, readings)
    const open = findings.filter(holdsBack).length + notices.length
    if (input.json) {
      const claimed = stated.claims.map(({ saying, classes, state, evidence, byHand }) => ({
        place: saying.place,
        paragraph: saying.paragraph,
        on: saying.on,
        sentence: saying.shown,
        classes,
        state,
        evidence,
        byHand,
      }))
      input.print(JSON.stringify({ claims: claimed, lost: stated.lost, findings, notices }, null, 2))
    } else {
      for (const { saying, classes, state, evidence, byHand } of stated.claims)
        input.print(
          `${classes.join('')}  ${saying.shown}\n    ${[classesInWords(classes), state === 'to-confirm' ? 'to be confirmed' : state, ...(byHand ? [byHandInWords(byHand, classes)] : []), ...evidence.map((each) => evidenceInWords(each, names))].join('; ')}`,
        )
      for (const { place, problem, wayOut, sentence, override, holds } of findings)
        input.print(
          `${place}: ${problem}${override ? ` (let stand by ${override.by}: ${override.reason})` : holds ? '' : ' (does not hold the film back)'}${sentence ? `\n    “${sentence}”` : ''}\n    ${wayOut}`,
        )
      for (const { problem, wayOut } of notices) input.print(`notices: ${problem}\n    ${wayOut}`)
      input.print(open === 0 ? 'Nothing holds the film back.' : `${open} open: the film is held back.`)
    }
    return open > 0 ? FINDINGS : FINE
  },
}
