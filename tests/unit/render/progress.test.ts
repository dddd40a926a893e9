import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { emptyProgressText, readProgress, type Progress } from '../../../app/render/progress'

/// As ffmpeg 5.1 and the build of 2018 print it.
const NEW =
  'frame=120\nfps=98.10\nstream_0_0_q=23.0\nbitrate= 512.3kbits/s\ntotal_size=262144\nout_time_us=4000000\nout_time_ms=4000000\nout_time=00:00:04.000000\ndup_frames=0\ndrop_frames=0\nspeed=3.27x\nprogress=continue\n'
const OLD = 'frame=7\nfps=0.0\ntotal_size=N/A\nout_time_ms=233333\nout_time=00:00:00.233333\nspeed=N/A\nprogress=end\n'

describe('readProgress', () => {
  it('reads the blocks of new and old builds', () => {
    expect(readProgress(emptyProgressText, NEW + OLD).reports).toEqual([
      { frame: 120, out_us: 4_000_000, bytes: 262_144, speed: 3.27, done: false },
      { frame: 7, out_us: 233_333, bytes: null, speed: null, done: true },
    ])
  })
  it('passes over lines of the log, Windows line ends and unknown times', () => {
    const text = '[libx264 @ 0x5] using cpu\r\nframe= 3\r\nout_time_us=N/A\r\nError: a=b c\r\nprogress=continue\r\n'
    expect(readProgress(emptyProgressText, text).reports).toEqual([{ frame: 3, out_us: null, bytes: null, speed: null, done: false }])
  })
  it('answers the same however the text is cut into pieces', () => {
    const whole = readProgress(emptyProgressText, NEW + OLD + NEW).reports
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 60 }), { minLength: 1 }), (cuts) => {
        const text = NEW + OLD + NEW
        const reports: Progress[] = []
        let rest = emptyProgressText
        for (let at = 0, i = 0; at < text.length; at += cuts[i++ % cuts.length]!) {
          const read = readProgress(rest, text.slice(at, at + cuts[i % cuts.length]!))
          reports.push(...read.reports)
          rest = read.rest
        }
        expect(reports).toEqual(whole)
      }),
    )
  })
})
