import type { CallOutput } from '../../app/contract/calls'
import type { PackHead } from '../../app/edit/project-state'
import { landmarkKey, PACK_FRAMES, packSamples } from '../../app/edit/records'
import type { Refusal } from '../../app/contract/refusal'
import type { Sample } from '../../app/project/film'

/// Samples travel in pages of at most this many.
const PAGE_SAMPLES = 50_000

/// Frames `from` (included) to `to` (excluded) of a clip.
export interface SamplePage {
  readonly clip: string
  readonly from: number
  readonly to: number
}

/// The pages in which a project's samples are asked for, turn by turn: the first page of every clip, then the second ones. A
/// page holds as many packs as travel at once where every frame was placed once; a clip's first one holds its first pack alone, so
/// that a first frame has its points soon.
export function samplePages(packs: readonly PackHead[]): SamplePage[][] {
  const clips = new Map<string, PackHead[]>()
  for (const pack of packs) {
    const of = clips.get(pack.clip)
    if (of) of.push(pack)
    else clips.set(pack.clip, [pack])
  }
  const turns: SamplePage[][] = []
  for (const [clip, of] of clips) {
    const counts = new Map<number, number>()
    for (const { pack } of of) counts.set(pack, (counts.get(pack) ?? 0) + 1)
    const own: SamplePage[] = []
    let held = Infinity
    for (const [pack, landmarks] of [...counts].sort(([a], [b]) => a - b)) {
      const most = landmarks * PACK_FRAMES
      const page = own.at(-1)
      if (page && own.length > 1 && held + most <= PAGE_SAMPLES) {
        own[own.length - 1] = { ...page, to: (pack + 1) * PACK_FRAMES }
        held += most
      } else {
        own.push({ clip, from: pack * PACK_FRAMES, to: (pack + 1) * PACK_FRAMES })
        held = most
      }
    }
    own.forEach((page, turn) => (turns[turn] ??= []).push(page))
  }
  return turns
}

type Landmarks = CallOutput<'landmarks.samples'>['landmarks']
type Answer = { readonly ok: true; readonly value: CallOutput<'landmarks.samples'> } | { readonly ok: false; readonly error: Refusal }

/// Asks for a page; in halves where it holds more than travels at once, because frames were placed more than once.
export async function readPage(page: SamplePage, ask: (page: SamplePage) => Promise<Answer>): Promise<Landmarks> {
  const answer = await ask(page)
  if (answer.ok) return answer.value.landmarks
  if (answer.error.code !== 'too-large' || page.to - page.from < 2) return []
  const middle = Math.floor((page.from + page.to) / 2)
  return [...(await readPage({ ...page, to: middle }, ask)), ...(await readPage({ ...page, from: middle }, ask))]
}

/// Samples as they were read: by the key of their landmark, then by their pack.
export type SamplesRead = ReadonlyMap<string, ReadonlyMap<number, readonly Sample[]>>

/// Samples that were read, with those of another page.
export function withPage(read: SamplesRead, landmarks: Landmarks): SamplesRead {
  const next = new Map(read)
  for (const { samples, ...of } of landmarks) {
    const packs = packSamples(of, samples)
    if (packs.length === 0) continue
    const key = landmarkKey(of)
    const known = new Map(next.get(key))
    // A page that was asked for in halves may part a pack.
    for (const { pack, samples: more } of packs) known.set(pack, [...(known.get(pack) ?? []), ...more])
    next.set(key, known)
  }
  return next
}
