import { mkdir, readFile } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import type { Reading } from '../../app/measure/reading'
import { evidenceStills, stillsBreakdown, type EvidenceStill } from '../../app/release/evidence-still'
import { evidenceNeeds, type SentenceClass } from '../../app/release/release-record'
import type { TimedSentence } from '../../app/programme/sentence-time'
import type { Breakdown } from '../../app/project/breakdown'
import { statedClaims } from '../../app/script/claims/stated-claim'
import type { FilmLibrary } from '../media/film-library'
import type { FilmFaces } from '../render/faces'
import { programmeOf } from '../render/film-plan'
import { stillPicture } from '../render/stills'
import type { DeliveryMatter } from './delivery-texts'

/// Width of the stills that are kept with a version, px.
const STILL_WIDTH = 960

export const stillFile = (still: Pick<EvidenceStill, 'name'>): string => `stills/${still.name}.jpg`

/// What each sentence is taken to claim: as a person stated it of these words or of those that they came from, else as
/// the rules suggest.
export function classIn(
  breakdown: Breakdown,
  readings: ReadonlyMap<string, Reading>,
): (sentence: Pick<TimedSentence, 'paragraph' | 'words' | 'nth'>) => SentenceClass | null {
  const key = (paragraph: string, words: string, nth: number): string => JSON.stringify([paragraph, words, nth])
  const stated = new Map(
    statedClaims(breakdown, readings).claims.flatMap(({ saying: { on }, classes, state, evidence, byHand }) =>
      on.part === 'sentence'
        ? [[key(on.paragraph ?? '', on.words, on.nth ?? 0), { classes, state, evidence, byHand } satisfies SentenceClass] as const]
        : [],
    ),
  )
  return ({ paragraph, words, nth }) => stated.get(key(paragraph, words, nth)) ?? null
}

/// The stills that a film's evidence needs.
export function neededStills({ breakdown, sentences, readings }: DeliveryMatter): EvidenceStill[] {
  return evidenceStills(breakdown, evidenceNeeds(breakdown, sentences, classIn(breakdown, readings)))
}

export interface MakingStills {
  readonly library: FilmLibrary
  readonly faces: FilmFaces
  readonly cache: string
  readonly signal?: AbortSignal | undefined
  readonly onProgress?: ((fraction: number) => void) | undefined
}

/// Draws every still by the film's own painter into `folder`. A clip whose film is not among `matter.films` has none.
export async function makeEvidenceStills(
  matter: DeliveryMatter,
  stills: readonly EvidenceStill[],
  folder: string,
  making: MakingStills,
): Promise<EvidenceStill[]> {
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
  const entries = await Promise.all(
    stills.map(async (still) => [stillFile(still), (await readFile(join(folder, stillFile(still)))).toString('base64')] as const),
  )
  return new Map(entries)
}
