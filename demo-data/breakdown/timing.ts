import type { Hold, Pair, Run, Shot } from '../../app/project/picture'

/// Fits a paragraph's shots to its take, so that pictures and words end together and a cue's frame
/// comes as its word is said.

/// A hold, or a pair's standing picture, that is as long as is left over.
export type Elastic = (Omit<Hold, 'seconds'> & { readonly seconds: 'rest' }) | (Omit<Pair, 'still'> & { readonly still: 'rest' })
export type Draft = Shot | Elastic

/// Silence after a paragraph's words, seconds: the picture stays this long.
const BREATH_S = 0.45
const LEAST_HOLD_S = 1.5

/// `runSeconds` tells how long a run, pair or card stands on screen.
export function fitted(drafts: readonly Draft[], words_s: number, seconds: (shot: Shot) => number): Shot[] {
  const fixed = drafts.reduce((sum, d) => sum + seconds(isElastic(d) ? unstretched(d) : d), 0)
  const elastic = drafts.filter(isElastic).length
  const rest = elastic === 0 ? 0 : Math.max(LEAST_HOLD_S, (words_s + BREATH_S - fixed) / elastic)
  return drafts.map((d): Shot => (!isElastic(d) ? d : 'hold' in d ? { ...d, seconds: inTicks(rest) } : { ...d, still: inTicks(rest) }))
}

/// A run that reaches `frame` of the clip `arrive_s` after it is called for: from as early as the
/// clip allows, after standing on its first frame where that comes too soon. The run ends before
/// `frame`; a hold on it follows.
export function arriving(
  run: Omit<Run, 'from' | 'to'>,
  frame: number,
  earliest: number,
  arrive_s: number,
  framesPerSecond: number,
): Draft[] {
  const wanted = Math.round(arrive_s * framesPerSecond)
  const frames = Math.min(wanted, frame - earliest)
  const standing = (wanted - frames) / framesPerSecond
  const from = frame - frames
  const { run: clip, speed: _speed, ...rest } = run
  const held: Draft[] = standing > 0.05 ? [{ hold: clip, at: from, seconds: inTicks(standing), ...withoutMotion(rest) }] : []
  return [...held, { ...run, from, to: frame }]
}

/// A hold before a run shows what the run shows first.
function withoutMotion({ frameTo: _frameTo, ...rest }: Pick<Run, 'frame' | 'frameTo' | 'marks'>): Pick<Hold, 'frame' | 'marks'> {
  return rest
}

const isElastic = (d: Draft): d is Elastic => ('hold' in d && d.seconds === 'rest') || ('pair' in d && d.still === 'rest')
const unstretched = (d: Elastic): Shot => ('hold' in d ? { ...d, seconds: '0' } : { ...d, still: '0' })

/// Seconds to the nearest thirtieth, as a fraction.
export const inTicks = (seconds: number): string => `${Math.max(1, Math.round(seconds * 30))}/30`
