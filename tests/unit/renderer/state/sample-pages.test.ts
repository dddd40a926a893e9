import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { refusalWith } from '../../../../app/contract/refusal'
import { packHead } from '../../../../app/edit/project-state'
import { landmarkKey, packSamples } from '../../../../app/edit/records'
import type { Landmark } from '../../../../app/project/film'
import { readPage, samplePages, withPage, type SamplePage, type SamplesRead } from '../../../../renderer/state/sample-pages'

/// Samples are read page by page, as the contract lets them travel: 50,000 at most.

const LIMIT = 50_000
const landmark = (clip: string, point: string, frames: readonly number[]): Landmark => ({
  clip,
  subject: 's1',
  point,
  samples: frames.map((frame, i) => ({ frame, at: [i, frame] as [number, number] })),
})
const every = (to: number, repeats = 1): number[] => Array.from({ length: to * repeats }, (_, i) => Math.floor(i / repeats))

/// Reads all of the landmarks as the window does, from an engine that sends `limit` samples at a time.
async function readAll(
  landmarks: readonly Landmark[],
  limit: number,
): Promise<{ readonly read: SamplesRead; readonly asked: readonly SamplePage[]; readonly sent: readonly number[] }> {
  const asked: SamplePage[] = []
  const sent: number[] = []
  const ask = (page: SamplePage) => {
    asked.push(page)
    const found = landmarks
      .filter(({ clip }) => clip === page.clip)
      .map((l) => ({ ...l, samples: l.samples.filter(({ frame }) => frame >= page.from && frame < page.to) }))
    const count = found.reduce((sum, { samples }) => sum + samples.length, 0)
    if (count > limit)
      return Promise.resolve({ ok: false as const, error: refusalWith('too-large', { what: 'what was asked for', limit_bytes: limit }) })
    sent.push(count)
    return Promise.resolve({ ok: true as const, value: { version: 1, landmarks: found } })
  }
  let read: SamplesRead = new Map()
  for (const turn of samplePages(landmarks.flatMap((l) => packSamples(l, l.samples).map(packHead))))
    for (const page of turn) read = withPage(read, await readPage(page, ask))
  return { read, asked, sent }
}

const held = (read: SamplesRead, of: Landmark) =>
  [...(read.get(landmarkKey(of)) ?? [])].sort(([a], [b]) => a - b).flatMap(([, samples]) => samples)

describe('samples of a long clip', () => {
  it('should all come, in their order, in pages of 50,000 at most, the first frames first', async () => {
    const landmarks = Array.from({ length: 30 }, (_, i) => landmark('c1', `ring.${i}`, every(5000)))
    const { read, asked, sent } = await readAll(landmarks, LIMIT)
    for (const of of landmarks) expect(held(read, of)).toEqual(of.samples)
    expect(Math.max(...sent)).toBeLessThanOrEqual(LIMIT)
    expect(sent.length).toBe(asked.length)
    expect(asked.map(({ from }) => from)).toEqual(asked.map(({ from }) => from).sort((a, b) => a - b))
    expect(asked[0]?.from).toBe(0)
  })

  it('should come in halves where frames were placed more often than once', async () => {
    const landmarks = Array.from({ length: 30 }, (_, i) => landmark('c1', `ring.${i}`, every(1500, 3)))
    const { read, sent } = await readAll(landmarks, LIMIT)
    for (const of of landmarks) expect(held(read, of)).toEqual(of.samples)
    expect(Math.max(...sent)).toBeLessThanOrEqual(LIMIT)
  })

  it('should be whole however little travels at once, and however packs are parted', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(
          fc.record({
            clip: fc.constantFrom('c1', 'c2'),
            frames: fc.array(fc.integer({ min: 0, max: 1200 }), { minLength: 1, maxLength: 60 }),
          }),
          { maxLength: 4 },
        ),
        fc.integer({ min: 60 * 4, max: 400 }),
        async (of, limit) => {
          const landmarks = of.map(({ clip, frames }, i) =>
            landmark(
              clip,
              `ring.${i}`,
              frames.sort((a, b) => a - b),
            ),
          )
          const { read } = await readAll(landmarks, limit)
          for (const each of landmarks) expect(held(read, each)).toEqual(each.samples)
        },
      ),
      { numRuns: 50 },
    )
  })
})
