import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import { fileUrl } from '../../main/media/file-url'
import { runFfmpeg } from '../../main/media/process'
import { integratedLoudness, truePeak } from '../bs1770'
import { builds, decodeSound } from '../ffmpeg-builds'
import { makePatternFilm } from '../film-patterns'
import { noise, RATE, speechLike, withPeaks, writeWav } from '../sound-signals'
import { renderDocument } from './render-document'

/// Whole films, narrated in four manners, measured after AAC by a meter written from ITU-R BS.1770 apart from
/// ffmpeg's: loudness within ±0.5 LU of the preset, true peak at most −1 dBTP, to the sample as long as the picture.

let folder: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'sound-'))
  await writeWav(join(folder, 'plain-1.wav'), [speechLike(6, 0.3, 1)])
  await writeWav(join(folder, 'plain-2.wav'), [speechLike(5, 0.15, 2)])
  await writeWav(join(folder, 'quiet-1.wav'), [speechLike(6, 0.01, 3)])
  await writeWav(join(folder, 'quiet-2.wav'), [speechLike(5, 0.02, 4)])
  await writeWav(join(folder, 'hot-1.wav'), [withPeaks(speechLike(6, 0.5, 5), 0.99, 6)])
  await writeWav(join(folder, 'hot-2.wav'), [withPeaks(speechLike(5, 0.3, 7), 0.99, 8)])
  await writeWav(join(folder, 'hall.wav'), [noise(10, 0.4, 9)])
  const tool = await builds[0]!.tool()
  await makePatternFilm(tool, join(folder, 'mute.mp4'), { frames: 300, rate: '30' })
  await runFfmpeg(tool, ['-v', 'error', '-y', '-i', join(folder, 'mute.mp4'), '-i', join(folder, 'hall.wav'), '-c:v', 'copy', '-c:a', 'aac', '-b:a', '192k', fileUrl(join(folder, 'loud.mp4'))])
})
afterAll(() => rm(folder, { recursive: true, force: true }))

const film = (takes: string, hall: 'muted' | 'under', loudness: '-14' | '-23'): Breakdown => ({
  format: 'claimframe-breakdown',
  version: 1,
  title: 'A test',
  output: { width: 160, height: 90, rate: '30/1' },
  sound: { loudness, hall },
  footage: [{ id: 'f1', file: 'loud.mp4' }],
  subjects: [],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: 300, capture: { factor: '1', u: 0 } }],
  script: [
    { id: 'p1', text: ['Words.'], take: `${takes}-1.wav`, shots: [{ run: 'c1', from: 0, to: 210, speed: '1' }] },
    { id: 'p2', text: ['Words.'], take: `${takes}-2.wav`, shots: [{ run: 'c1', from: 0, to: 90, speed: '1/2' }, { card: 'caution', seconds: '1' }] },
  ],
})

for (const { name, tool } of builds)
  for (const [what, takes, hall, loudness] of [
    ['speech alone', 'plain', 'muted', '-14'],
    ['speech over a loud hall', 'plain', 'under', '-14'],
    ['quiet speech', 'quiet', 'muted', '-23'],
    ['hot speech with hard peaks', 'hot', 'under', '-14'],
  ] as const) {
    it(`should bring ${what} to ${loudness} LUFS, peaks held, with ${name}`, async () => {
      const ffmpeg = await tool()
      const { plan, report } = await renderDocument(ffmpeg, film(takes, hall, loudness), folder, { out: join(folder, 'film.mp4'), cache: join(folder, `cache-${name}`) })
      const sound = await decodeSound(ffmpeg, report.out, 2)
      expect(Math.abs(integratedLoudness(sound) - Number(loudness))).toBeLessThanOrEqual(0.5)
      expect(truePeak(sound)).toBeLessThanOrEqual(-1)
      expect(Math.abs(sound[0]!.length - (plan.programme.frames / 30) * RATE)).toBeLessThanOrEqual(1024)
      if (hall === 'under') expect(report.sound.hallBelow).toBeGreaterThanOrEqual(20)
      // Between the takes: silence where the hall is muted, the hall alone where it is not.
      const gap = sound[0]!.subarray(Math.round(6.45 * RATE), Math.round(6.9 * RATE))
      const level = Math.sqrt(gap.reduce((sum, x) => sum + x * x, 0) / gap.length)
      if (hall === 'muted') expect(level).toBeLessThan(0.001)
      else expect(level).toBeGreaterThan(0.001)
    })
  }
