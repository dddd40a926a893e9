import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { z } from 'zod'
import { formatTimecode, parseTimecode } from '../../app/time/timecode'
import { rational, type Rational } from '../../app/time/rational'

/// Values of OpenTimelineIO's own tests (see tests/data/media/NOTICE.md).
const Vectors = z.object({
  'df_29.97': z.array(z.object({ frame: z.int(), tc: z.string() })).length(44),
  ndf_vs_df: z.array(z.object({ frame: z.int(), ndf_30: z.string(), df_2997: z.string() })).length(6),
  same_frame_number_1084319_at_other_rate: z.array(z.object({ rate: z.number(), tc: z.string() })).length(2),
})
const vectors = Vectors.parse(JSON.parse(readFileSync(new URL('../data/media/timecode_vectors_otio.json', import.meta.url), 'utf8')))
const r2997 = rational(30_000, 1001)
const r5994 = rational(60_000, 1001)

function bothWays(frame: number, text: string, rate: Rational, drop: boolean): void {
  expect(formatTimecode(frame, rate, drop)).toBe(text)
  expect(parseTimecode(text, rate)).toEqual({ ok: true, value: frame })
}

describe('timecode against OpenTimelineIO', () => {
  it.each(vectors['df_29.97'])('frame $frame at 29.97 is $tc', ({ frame, tc }) => bothWays(frame, tc, r2997, true))
  it.each(vectors.ndf_vs_df)('frame $frame is $ndf_30 and $df_2997', ({ frame, ndf_30, df_2997 }) => {
    bothWays(frame, ndf_30, rational(30), false)
    bothWays(frame, df_2997, r2997, true)
  })
  it.each(vectors.same_frame_number_1084319_at_other_rate)('frame 1084319 at $rate is $tc', ({ rate, tc }) =>
    bothWays(1084319, tc, rate === 29.97 ? r2997 : r5994, true),
  )
  it('a semicolon at 24 frames a second is refused', () => {
    expect(parseTimecode('01:00:13;23', rational(24))).toMatchObject({ ok: false, error: { code: 'no-drop-frame-at-rate' } })
  })
})

/// The pairs of the handbook's media section, same source, written out.
describe('timecode against the pairs written out', () => {
  it.each([
    [1799, '00:00:59;29'],
    [1800, '00:01:00;02'],
    [10789, '00:05:59;29'],
    [10790, '00:06:00;02'],
    [17981, '00:09:59;29'],
    [17982, '00:10:00;00'],
    [1084319, '10:03:00;05'],
    [107892, '01:00:00;00'],
    [2589407, '23:59:59;29'],
  ] as const)('frame %i is %s', (frame, text) => bothWays(frame, text, r2997, true))
})
