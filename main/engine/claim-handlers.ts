import type { Handlers } from '../../app/contract/calls'
import type { claimCalls } from '../../app/contract/claim-calls'
import { overtakenReleases } from '../../app/release/correction-draft'
import { publishedUsesOf, usesOf, usesOfReference } from '../../app/release/where-used'
import { statedClaims } from '../../app/script/claims/stated-claim'
import { readReferences } from '../references/read-references'
import { referenceList } from '../release/reference-list'
import { referenceTexts } from '../references/reference-text'
import type { Workspace } from './workspace'

export function claimHandlers(workspace: Workspace): Handlers<keyof typeof claimCalls> {
  const now = () => {
    const { readings, project } = workspace.opened
    return {
      version: project.version,
      breakdown: readings.breakdown(),
      known: new Map(readings.list().map((reading) => [reading.id, reading])),
    }
  }
  return {
    'claims.list': () => {
      const { version, breakdown, known } = now()
      const { claims, lost } = statedClaims(breakdown, known)
      return {
        version,
        claims: claims.map(({ saying, classes, state, evidence, changed, records, because, byHand }) => ({
          on: saying.on,
          place: saying.place,
          paragraph: saying.paragraph,
          shown: saying.shown,
          classes: [...classes],
          state,
          evidence: [...evidence],
          values: [...saying.values],
          cites: [...saying.cites],
          changed: [...changed],
          records: records.map(({ id }) => id),
          byHand: byHand && { ...byHand, suggested: [...byHand.suggested] },
          because: [...because].map(([letter, words]) => ({ class: letter, words })),
        })),
        lost: [...lost],
      }
    },
    'references.list': () => {
      const { version, breakdown, known } = now()
      return {
        version,
        references: referenceTexts(breakdown.references ?? []).map((text) => ({
          ...text,
          runs: text.runs.map((run) => ({ text: run.text, as: [...run.as] })),
          uses: usesOfReference(text.id, breakdown, known),
        })),
      }
    },
    'references.read': ({ text }) => {
      const read = readReferences(text, new Set(workspace.opened.project.state.tables.references.keys))
      if (!read.ok) throw read.error
      return { references: read.value }
    },
    'uses.find': ({ of, id }) => {
      const { version, breakdown, known } = now()
      const published = publishedUsesOf(of, id, breakdown.releases ?? [])
      return {
        version,
        uses: usesOf(of, id, breakdown, known),
        published: published.map(({ release, said }) => ({
          release: release.id,
          film: release.film,
          version: release.version,
          date: release.date,
          said,
        })),
      }
    },
    'corrections.due': ({ date }) => {
      const { version, breakdown, known } = now()
      const taken = new Set(workspace.opened.project.state.tables.corrections.keys)
      const unread = breakdown.footage.filter(({ id }) => workspace.opened.films.tableOf(id) === null).map(({ id }) => id)
      const clips = new Set(breakdown.clips.filter(({ footage }) => unread.includes(footage)).map(({ id }) => id))
      return {
        version,
        unread,
        overtaken: overtakenReleases(breakdown, known, date, clips, referenceList(breakdown)).map(({ release, changes, draft }) => {
          let n = 1
          while (taken.has(`correction-${n}`)) n++
          taken.add(`correction-${n}`)
          return {
            release: release.id,
            film: release.film,
            version: release.version,
            date: release.date,
            changes: changes.map(({ of, id, was, now, said }) => ({ of, id, was, now, said: [...said] })),
            draft: { id: `correction-${n}`, ...draft },
          }
        }),
      }
    },
  }
}
