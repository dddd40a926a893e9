import { betweenRectangles, moveProgress, shownRectangle } from '../../app/programme/framing'
import type { LaidShot } from '../../app/programme/programme'
import { exact } from '../../app/project/fields'
import type { Clip } from '../../app/project/film'
import type { Shot } from '../../app/project/picture'
import { add, divide, formatRational, multiply, rational, toNumber, type Rational } from '../../app/time/rational'

/// What dragging a shot's ends, or cutting it in two, makes of it. All in output frames of the film.

export type ShotEnd = 'start' | 'end'

/// The shot with one end moved by `by` output frames (later is positive); null where it cannot move so far, or at all.
/// A run shows other frames of its clip, never outside of it; a hold or a card stands for another time; a pair begins or
/// ends elsewhere about its event.
export function withEndMoved(shot: Shot, laid: LaidShot, end: ShotEnd, by: number, rate: Rational, clip: Clip | undefined): Shot | null {
  const longer = end === 'end' ? by : -by
  if (by === 0 || laid.frames + longer < 1) return null
  if ('run' in shot) {
    // A card stands for it while its film is gone: what it shows is not known.
    if (!clip || laid.kind === 'card') return null
    const frames = laid.panels[0]?.frames ?? []
    const perOutput = (shot.to - shot.from) / frames.length
    if (end === 'end') {
      const to =
        longer < 0
          ? (frames[frames.length - 1 + longer] ?? shot.from) + 1
          : Math.min(clip.to, shot.to + Math.max(1, Math.round(longer * perOutput)))
      return to === shot.to || to <= shot.from ? null : { ...shot, to }
    }
    const from =
      longer < 0 ? (frames[-longer] ?? shot.to - 1) : Math.max(clip.from, shot.from - Math.max(1, Math.round(longer * perOutput)))
    return from === shot.from || from >= shot.to ? null : { ...shot, from }
  }
  if ('pair' in shot) {
    const key = end === 'end' ? 'after' : 'before'
    const seconds = add(exact(shot[key]), multiply(divide(rational(longer), rate), exact(shot.speed)))
    return seconds.n < 0 ? null : { ...shot, [key]: formatRational(seconds) }
  }
  return { ...shot, seconds: formatRational(divide(rational(laid.frames + longer), rate)) }
}

/// The two shots that a shot becomes when it is cut before its output frame `at` (counted from its own first); null
/// where there is nothing to cut. A picture that moves goes on from where the cut finds it.
export function cutInTwo(shot: Shot, laid: LaidShot, at: number, rate: Rational): readonly [Shot, Shot] | null {
  if (at <= 0 || at >= laid.frames || 'pair' in shot) return null
  if ('run' in shot) {
    const frame = laid.panels[0]?.frames[at] ?? shot.from
    return frame <= shot.from || frame >= shot.to ? null : inStep({ ...shot, to: frame }, { ...shot, from: frame }, laid, at)
  }
  const lasting = (frames: number): string => formatRational(divide(rational(frames), rate))
  return inStep({ ...shot, seconds: lasting(at) }, { ...shot, seconds: lasting(laid.frames - at) }, laid, at)
}

/// What is shown at the cut ends the first half's move and begins the second's.
function inStep(first: Shot, second: Shot, laid: LaidShot, at: number): readonly [Shot, Shot] {
  const panel = laid.panels[0]
  if (!panel || !('frameTo' in first) || !first.frameTo) return [first, second]
  const [x, y, width, height] = shownRectangle(
    betweenRectangles(panel.shown[0], panel.shown[1], moveProgress(at, laid.frames)),
    panel.source,
  )
  return [{ ...first, frameTo: [x, y, width, height] }, { ...second, frame: [x, y, width, height] } as Shot]
}

/// The speeds that keys go through, slowest first.
const speeds = ['1/8', '1/4', '1/2', '1', '2'] as const

/// The shot at the next slower (−1) or faster (1) speed; null for one that stands, or at the end of the row.
export function atNextSpeed(shot: Shot, by: -1 | 1): Shot | null {
  if (!('speed' in shot)) return null
  const now = toNumber(exact(shot.speed))
  const next = by > 0 ? speeds.find((speed) => toNumber(exact(speed)) > now) : speeds.findLast((speed) => toNumber(exact(speed)) < now)
  return next === undefined ? null : { ...shot, speed: next }
}
