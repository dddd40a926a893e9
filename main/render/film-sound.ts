import { join, resolve } from 'node:path'
import type { LoudnessFigures } from '../../app/render/loudness-text'
import { withMinus } from '../../app/measure/minus'
import { planSound, sampleOfFrame, type LoudnessTarget } from '../../app/render/sound-plan'
import { secondsAt } from '../../app/time/frame-table'
import type { FilmLibrary } from '../media/film-library'
import { fileUrl } from '../media/file-url'
import { measureLoudness } from '../media/loudness'
import { runFfmpeg } from '../media/process'
import type { FilmPlan } from './film-plan'
import { mixSound, type MixReport } from './sound'

/// A film's finished sound, before it is joined with the pictures.
export interface FilmSound {
  readonly file: string
  readonly mix: MixReport
  readonly target: LoudnessTarget
  /// Loudness is held only where there is narration to bring to it, and over the whole film.
  readonly measured: boolean
}

export interface SoundInput {
  readonly plan: FilmPlan
  readonly library: FilmLibrary
  /// Output frames of the film that is made.
  readonly from: number
  readonly to: number
  readonly folder: string
  readonly signal?: AbortSignal | undefined
  readonly onProgress?: ((fraction: number) => void) | undefined
}

/// Loudness may miss its target by this much in the finished film, LU (EBU R 128's tolerance in production is
/// ±1; ours is tighter).
const LOUDNESS_TOLERANCE = 0.5

/// Mixes the sound of the whole programme and cuts it to the frames that are made.
export async function makeFilmSound(input: SoundInput): Promise<FilmSound> {
  const { plan, library, signal } = input
  const { breakdown, programme, films, takes } = plan
  const tone = breakdown.sound?.roomTone
  const sound = planSound(breakdown, programme, {
    takes: new Map([...takes].map(([paragraph, take]) => [paragraph, { file: take.path, seconds: take.seconds }])),
    roomTone: tone === undefined ? null : resolve(library.folder, tone),
    hall: (footage) => {
      const film = films.get(footage)
      return film?.head.sound ? { file: film.path, secondsAt: (frame) => secondsAt(film.table, frame) - film.head.containerStart_s } : null
    },
  })
  const whole = join(input.folder, 'mix.flac')
  const mix = await mixSound(library.tool, sound, whole, { signal, onProgress: input.onProgress })
  const complete = input.from === 0 && input.to === programme.frames
  const file = complete ? whole : join(input.folder, 'part.flac')
  if (!complete) {
    const [start, end] = [input.from, input.to].map((frame) => sampleOfFrame(frame, programme.rate))
    await runFfmpeg(
      library.tool,
      [
        '-v',
        'error',
        '-y',
        '-i',
        fileUrl(whole),
        '-af',
        `atrim=start_sample=${start}:end_sample=${end},asetpts=PTS-STARTPTS`,
        '-c:a',
        'flac',
        fileUrl(file),
      ],
      { signal, what: 'the sound' },
    )
  }
  return { file, mix, target: sound.target, measured: complete && sound.takes.length > 0 }
}

/// Measures the finished film's sound and says what misses its target.
export async function checkFilmSound(
  library: FilmLibrary,
  film: string,
  sound: FilmSound,
  signal?: AbortSignal,
): Promise<{ figures: LoudnessFigures; problems: string[] }> {
  const figures = await measureLoudness(library.tool, film, { signal, what: 'the check of the film' })
  if (!sound.measured) return { figures, problems: [] }
  const problems: string[] = []
  if (Math.abs(figures.integrated - sound.target.integrated) > LOUDNESS_TOLERANCE)
    problems.push(
      `the film's loudness is ${withMinus(figures.integrated.toFixed(1))} LUFS where ${withMinus(String(sound.target.integrated))} was wanted`,
    )
  if (figures.truePeak > sound.target.truePeak)
    problems.push(
      `the film's true peak is ${withMinus(figures.truePeak.toFixed(1))} dBTP where at most ${withMinus(String(sound.target.truePeak))} was wanted`,
    )
  return { figures, problems }
}
