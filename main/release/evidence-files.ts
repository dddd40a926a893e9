import { mkdir, readFile } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { evidenceStills, stillsBreakdown, type EvidenceStill } from '../../app/release/evidence-still'
import { evidenceNeeds, statedClass, type SentenceClass } from '../../app/release/release-record'
import type { TimedSentence } from '../../app/programme/sentence-time'
import type { Breakdown } from '../../app/project/breakdown'
import type { ClaimClass } from '../../app/project/claim'
import type { MeasureKind } from '../../app/project/question'
import { suggestClasses } from '../../app/script/claims/suggest-classes'
import type { FilmLibrary } from '../media/film-library'
import type { FilmFaces } from '../render/faces'
import { programmeOf } from '../render/film-plan'
import { stillPicture } from '../render/stills'
import type { DeliveryMatter } from './delivery-texts'

/// Width of the stills that are kept with a version, px.
const STILL_WIDTH = 960

export const stillFile = (still: Pick<EvidenceStill, 'name'>): string => `stills/${still.name}.jpg`

/// What a sentence is taken to claim.
export function classIn(breakdown: Breakdown): (sentence: TimedSentence) => SentenceClass | null {
  const kinds = new Map((breakdown.measures ?? []).map(({ id, kind }) => [id, classOfKind(kind)]))
  return (sentence) => statedClass(breakdown, sentence) ?? { classes: suggestClasses(sentence.shown, [...new Set(sentence.values.flatMap((id) => kinds.get(id) ?? []))]).classes, state: 'suggested', evidence: [] }
}

/// The class that saying a measure's value makes.
function classOfKind(kind: MeasureKind): ClaimClass {
  if (kind === 'comparison') return 'E'
  if (kind === 'count') return 'D'
  return ['frame-count', 'time-between', 'order', 'peak-time', 'peak-order'].includes(kind) ? 'C' : 'B'
}

/// The stills that a film's evidence needs.
export function neededStills({ breakdown, sentences }: DeliveryMatter): EvidenceStill[] {
  return evidenceStills(breakdown, evidenceNeeds(breakdown, sentences, classIn(breakdown)))
}

export interface MakingStills {
  readonly library: FilmLibrary
  readonly faces: FilmFaces
  readonly cache: string
  readonly signal?: AbortSignal | undefined
  readonly onProgress?: ((fraction: number) => void) | undefined
}

/// Draws every still by the film's own painter into `folder`. A clip whose film is not among `matter.films` has none.
export async function makeEvidenceStills(matter: DeliveryMatter, stills: readonly EvidenceStill[], folder: string, making: MakingStills): Promise<EvidenceStill[]> {
  const { films, readings } = matter
  const clips = new Map(matter.breakdown.clips.map((clip) => [clip.id, clip]))
  const drawable = stills.filter((still) => {
    const film = films.get(clips.get(still.clip)?.footage ?? '')
    return film !== undefined && still.frame < film.table.pts.length
  })
  if (drawable.length === 0) return []
  const breakdown = stillsBreakdown(matter.breakdown, drawable)
  const programme = programmeOf(breakdown, films, readings, new Map(), making.faces.typeface)
  for (const [i, still] of drawable.entries()) {
    const shot = programme.shots[i + 1]
    if (!shot) throw new RangeError(`still ${still.name} was not laid out`)
    const file = join(folder, stillFile(still))
    await mkdir(dirname(file), { recursive: true })
    await stillPicture({ breakdown, programme, films, readings, ...making }, shot.start, file, STILL_WIDTH)
    making.onProgress?.((i + 1) / drawable.length)
  }
  return drawable
}

/// Stills as base64, by name, for a report that stands alone.
export async function embeddedStills(stills: readonly EvidenceStill[], folder: string): Promise<Map<string, string>> {
  const entries = await Promise.all(stills.map(async (still) => [stillFile(still), (await readFile(join(folder, stillFile(still)))).toString('base64')] as const))
  return new Map(entries)
}
