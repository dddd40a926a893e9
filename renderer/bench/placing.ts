import type { Change, RecordDiff } from '../../app/edit/edit'
import type { ProjectState } from '../../app/edit/project-state'
import { landmarkKey, packSamples, type LandmarkHead, type Pack } from '../../app/edit/records'
import type { Breakdown } from '../../app/project/breakdown'
import type { Sample } from '../../app/project/film'
import { adding } from '../state/record-change'

/// Changes of a landmark's samples, as the one gate takes them: whole packs of those that differ.

type Placing = Omit<Change, 'selection'>

export const samplesOf = (breakdown: Breakdown, of: LandmarkHead): readonly Sample[] =>
  breakdown.landmarks?.find((l) => l.clip === of.clip && l.subject === of.subject && l.point === of.point)?.samples ?? []

/// The change that leads a landmark from its samples to `next` (kept in the order of their frames). Null when nothing
/// differs.
export function changeSamples(
  state: ProjectState,
  before: readonly Sample[],
  of: LandmarkHead,
  next: readonly Sample[],
  label: string,
): Placing | null {
  const head: LandmarkHead = { clip: of.clip, subject: of.subject, point: of.point }
  const inOrder = [...next].sort((a, b) => a.frame - b.frame)
  const [was, becomes] = [byPack(packSamples(head, before)), byPack(packSamples(head, inOrder))]
  const diffs: RecordDiff[] = state.tables.landmarks.has(landmarkKey(head)) ? [] : [adding(state, 'landmarks', head)]
  for (const pack of new Set([...was.keys(), ...becomes.keys()])) {
    const [from, to] = [was.get(pack), becomes.get(pack)]
    const key = `${landmarkKey(head)}/${pack}`
    if (from && to) {
      if (JSON.stringify(from.samples) !== JSON.stringify(to.samples)) diffs.push({ table: 'packs', key, change: 'updated', from, to })
    } else if (to) diffs.push({ table: 'packs', key, change: 'added', record: to, after: null })
    else if (from) diffs.push({ table: 'packs', key, change: 'removed', record: from, after: null })
  }
  return diffs.length === 0 ? null : { label, steps: [], diffs }
}

/// A sample more on its frame, behind those that are there.
export const withSample = (samples: readonly Sample[], sample: Sample): Sample[] => [...samples, sample].sort((a, b) => a.frame - b.frame)

/// A frame's placings by hand, in their order.
export const handsOn = (samples: readonly Sample[], frame: number): Sample[] =>
  samples.filter((sample) => sample.frame === frame && isByHand(sample))

/// The hand's placing that comes behind `before` others of its frame: put there anew, or moved where it stands already. What
/// was followed or suggested on the frame gives way to it.
export function withPlacing(samples: readonly Sample[], placing: Sample, before: number): Sample[] {
  if (handsOn(samples, placing.frame)[before])
    return withHandChanged(samples, placing.frame, before, (sample) => ({ ...sample, at: placing.at }))
  return withSample(
    samples.filter((sample) => sample.frame !== placing.frame || isByHand(sample)),
    placing,
  )
}

/// The placing by hand behind `before` others of its frame in another shape; nothing changes where there is none.
export function withHandChanged(samples: readonly Sample[], frame: number, before: number, change: (sample: Sample) => Sample): Sample[] {
  const changed = handsOn(samples, frame)[before]
  return samples.map((sample) => (sample === changed ? change(sample) : sample))
}

/// The same placing taken away.
export function withoutHand(samples: readonly Sample[], frame: number, before: number): Sample[] {
  const gone = handsOn(samples, frame)[before]
  return samples.filter((sample) => sample !== gone)
}

/// Every placing of a frame moved alike, so that their spread stays what it was. A tracked or suggested one that a hand
/// moves is a corrected one, and as sure as a hand's.
export const moved = (samples: readonly Sample[], frame: number, dx: number, dy: number): Sample[] =>
  samples.map((sample): Sample => {
    if (sample.frame !== frame) return sample
    const at: [number, number] = [sample.at[0] + dx, sample.at[1] + dy]
    if (isByHand(sample)) return { ...sample, at }
    const { sigma: _sigma, ...rest } = sample
    return { ...rest, at, origin: 'corrected' }
  })

export const isByHand = ({ origin }: Sample): boolean => origin !== 'tracked' && origin !== 'suggested'

/// Whether a hand that places a point on a frame corrects what was followed or suggested there: what was followed about it is then
/// followed anew.
export const isCorrected = (samples: readonly Sample[], frame: number): boolean =>
  samples.some((sample) => sample.frame === frame && !isByHand(sample))

const byPack = (packs: readonly Pack[]): Map<number, Pack> => new Map(packs.map((pack) => [pack.pack, pack]))
