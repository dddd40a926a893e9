import { describeFilm } from '../../media/film-description'
import { probeFilm } from '../../media/film-report'
import { findFfmpeg } from '../../media/find-ffmpeg'
import type { Command } from '../command'
import { FINE } from '../exit-status'
import { onePath } from '../one-path'

export const probe: Command = {
  usage: 'probe <video>',
  summary: 'What a film file is: every frame’s time, true rate, duplicates, cuts, turn, fields, colour.',
  options: {},
  async run(input) {
    const path = onePath(input, probe)
    const report = await probeFilm(await findFfmpeg(), path, {
      signal: input.signal,
      onProgress: (done) => input.progress(`reading ${path}: ${Math.round(done * 100)} %`),
    })
    input.print(input.json ? JSON.stringify(report, null, 2) : describeFilm(report))
    return FINE
  },
}
