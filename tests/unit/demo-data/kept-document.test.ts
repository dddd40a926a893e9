import { expect, it } from 'vitest'
import { spokenTokens } from '../../../app/align/spoken-tokens'
import { claims, overrides } from '../../../demo-data/breakdown/claims'
import { momentsOf } from '../../../demo-data/breakdown/evidence'
import { spokenParagraphs } from '../../../demo-data/breakdown/two-right-hands'
import { films } from '../../../demo-data/film/recipes'
import type { Truth } from '../../../demo-data/film/truth'
import { demoFilm } from '../../demo-film'

/// The document kept for tests says what the demo says now: where its words change, it is made and kept anew.
it('the kept demo document has the words of the demo as it is made', () => {
  const { breakdown, readings } = demoFilm()
  const event = (clip: string, name: string): number =>
    breakdown.events?.find((each) => each.clip === clip && each.name === name)?.earliest ?? 0
  const clipOf = (film: string): string =>
    breakdown.clips.find(({ footage }) => breakdown.footage.find(({ id }) => id === footage)?.file === `${film}.mp4`)!.id
  const truths = new Map(
    films.map(({ name, frames, camera }): [string, Truth] => {
      const px = Array.from({ length: frames }, () => [640, 360] as const)
      const points = ['chin', 'bag.bottom', 'hip.mid', 'hip.right', 'knee.right'].map((point) => ({
        name: point,
        px,
        metres: [],
        seen: 's'.repeat(frames),
        blur: [],
      }))
      return [
        name,
        {
          film: name,
          note: '',
          camera,
          fileRate: '30/1',
          captureRate: '30/1',
          captureFactor: '1',
          shutter_s: 0,
          frames,
          contact: { seconds: 1, frame: event(clipOf(name), 'contact') },
          turns: { hips: 1, shoulders: 2 },
          separation_deg: 0,
          points,
        },
      ]
    }),
  )
  expect(Object.values(momentsOf(truths).contact).every((frame) => frame > 0)).toBe(true)
  const kept = breakdown.script.flatMap((row) => ('text' in row ? [{ id: row.id, text: row.text }] : []))
  expect(kept).toEqual(spokenParagraphs(truths).map(({ id, text }) => ({ id, text })))
  const takes = breakdown.script.flatMap((row) => ('text' in row && row.take !== undefined ? [row] : []))
  expect(takes.map(({ narration }) => narration)).toEqual(
    takes.map((row) => ({ words: spokenTokens(row, readings).map(({ word }) => word) })),
  )
  expect(breakdown.claims).toEqual(claims)
  expect(breakdown.overrides).toEqual(overrides)
})
