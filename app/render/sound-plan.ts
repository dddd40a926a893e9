import type { Breakdown } from '../project/breakdown'
import { exact } from '../project/fields'
import type { Programme } from '../programme/programme'
import { takeStretches } from '../script/pauses'
import { multiply, rational, round, type Rational } from '../time/rational'
import { TICKS_PER_SECOND, type Ticks } from '../time/ticks'

/// The film's sound as data: what sounds from which sample to which. Everything is counted in
/// samples of the finished track.

export const SOUND_RATE = 48_000

/// A loudness that a film is brought to: integrated loudness after EBU R 128 in LUFS, and the highest
/// true peak that the delivered (AAC) sound may have, in dBTP. −14 is the figure commonly quoted for
/// video platforms (secondary); −23 is R 128's. Before AAC the sound is held at `ceiling`, because a
/// lossy encoder moves peaks.
export interface LoudnessTarget {
  readonly integrated: number
  readonly truePeak: number
  readonly ceiling: number
}

export const LOUDNESS: Readonly<Record<'-14' | '-23', LoudnessTarget>> = {
  '-14': { integrated: -14, truePeak: -1, ceiling: -1.5 },
  '-23': { integrated: -23, truePeak: -1, ceiling: -1.5 },
}

/// A stretch of a source on the track. Stretches of one bus neither overlap nor run over its end.
export interface SoundPiece {
  /// File as the caller named it.
  readonly file: string
  /// Seconds into the file, from its start.
  readonly startSeconds: number
  readonly at: number
  readonly samples: number
  readonly fadeIn: number
  readonly fadeOut: number
}

export interface TakePiece extends SoundPiece {
  readonly paragraph: string
}

export interface SoundPlan {
  readonly samples: number
  readonly takes: readonly TakePiece[]
  /// Room tone that fills the gaps; null: silence.
  readonly roomTone: {
    readonly file: string
    readonly gaps: readonly { readonly at: number; readonly samples: number; readonly fadeIn: number; readonly fadeOut: number }[]
  } | null
  /// Sound of the footage, only where it runs at full speed; empty when it is muted.
  readonly hall: readonly SoundPiece[]
  readonly target: LoudnessTarget
}

/// Where the sound comes from. Files are named as ffmpeg is to open them.
export interface SoundSources {
  /// By paragraph.
  readonly takes: ReadonlyMap<string, { readonly file: string; readonly seconds: Rational }>
  readonly roomTone: string | null
  /// Sound of a footage: its file, and the time at which one of its frames is shown in seconds from
  /// the container's start. Null when it has none.
  hall(footage: string): { readonly file: string; secondsAt(frame: number): number } | null
}

/// Fades at a take's ends, of its sound, and of the room tone into the take: within 10–30 ms
/// (common practice, from memory).
const TAKE_FADE = 0.015 * SOUND_RATE
const HALL_FADE = 0.03 * SOUND_RATE

const sampleAt = (t: Ticks): number => Math.round(t / (TICKS_PER_SECOND / SOUND_RATE))

/// The sample at which output frame `frame` begins.
export const sampleOfFrame = (frame: number, rate: Rational): number =>
  round(multiply(rational(frame), rational(SOUND_RATE * rate.d, rate.n)))

/// Lays the sound of a programme out. A take that would run into the next one or over the film's end
/// is cut there. Throws RangeError when a paragraph's take is not among the sources.
export function planSound(breakdown: Breakdown, programme: Programme, sources: SoundSources): SoundPlan {
  const samples = sampleOfFrame(programme.frames, programme.rate)
  const spoken = programme.paragraphs
    .filter((paragraph) => paragraph.take !== null)
    .map((paragraph) => ({ paragraph, at: sampleAt(paragraph.words.from) }))
  const takes = spoken.flatMap(({ paragraph, at }, i): TakePiece[] => {
    const take = sources.takes.get(paragraph.id)
    if (!take) throw new RangeError(`paragraph ${paragraph.id} has a take that no file was given for`)
    const limit = Math.min(spoken[i + 1]?.at ?? samples, samples)
    const whole = round(multiply(take.seconds, rational(SOUND_RATE)))
    return takeStretches(whole / SOUND_RATE, paragraph.pauses, paragraph.trim).flatMap((stretch): TakePiece[] => {
      const [from, to] = [Math.round(stretch.from * SOUND_RATE), Math.round(stretch.to * SOUND_RATE)]
      const start = at + Math.round(stretch.at * SOUND_RATE)
      const end = Math.min(start + to - from, limit)
      if (end <= start) return []
      const fade = Math.min(TAKE_FADE, Math.floor((end - start) / 2))
      return [
        {
          paragraph: paragraph.id,
          file: take.file,
          startSeconds: from / SOUND_RATE,
          at: start,
          samples: end - start,
          fadeIn: fade,
          fadeOut: fade,
        },
      ]
    })
  })
  return {
    samples,
    takes,
    roomTone: sources.roomTone === null ? null : { file: sources.roomTone, gaps: gapsOf(takes, samples) },
    hall: breakdown.sound?.hall === 'under' ? hallOf(breakdown, programme, sources, samples) : [],
    target: LOUDNESS[breakdown.sound?.loudness ?? '-14'],
  }
}

/// What lies between the takes, reaching into both by the length of their fades, so that tone and
/// take cross.
function gapsOf(takes: readonly TakePiece[], samples: number): { at: number; samples: number; fadeIn: number; fadeOut: number }[] {
  const gaps: { at: number; samples: number; fadeIn: number; fadeOut: number }[] = []
  for (let i = 0; i <= takes.length; i++) {
    const [before, after] = [takes[i - 1], takes[i]]
    const from = before ? before.at + before.samples - before.fadeOut : 0
    const to = after ? after.at + after.fadeIn : samples
    const [fadeIn, fadeOut] = [before?.fadeOut ?? 0, after?.fadeIn ?? 0]
    if (to - from > fadeIn + fadeOut) gaps.push({ at: from, samples: to - from, fadeIn, fadeOut })
  }
  return gaps
}

/// Sound of runs at full speed of clips whose file keeps real time; everything slowed is mute.
function hallOf(breakdown: Breakdown, programme: Programme, sources: SoundSources, samples: number): SoundPiece[] {
  const clips = new Map(breakdown.clips.map((clip) => [clip.id, clip]))
  return programme.shots.flatMap((laid): SoundPiece[] => {
    const panel = laid.panels[0]
    if (laid.kind !== 'run' || !('run' in laid.shot) || !panel || panel.frames[0] === undefined) return []
    const capture = clips.get(panel.clip)?.capture
    const realTime = capture !== undefined && capture !== 'unknown' && isOne(exact(capture.factor)) && isOne(exact(laid.shot.speed))
    const source = realTime ? sources.hall(panel.footage) : null
    if (!source) return []
    const at = sampleOfFrame(laid.start, programme.rate)
    const length = Math.min(sampleOfFrame(laid.start + laid.frames, programme.rate), samples) - at
    const fade = Math.min(HALL_FADE, Math.floor(length / 2))
    return length <= 0
      ? []
      : [
          {
            file: source.file,
            startSeconds: Math.max(0, source.secondsAt(panel.frames[0])),
            at,
            samples: length,
            fadeIn: fade,
            fadeOut: fade,
          },
        ]
  })
}

const isOne = (r: Rational): boolean => r.n === r.d
