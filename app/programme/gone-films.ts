import type { Breakdown } from '../project/breakdown'
import { clipsOfShot } from '../project/clips-of-shot'
import { exact } from '../project/fields'
import type { Clip } from '../project/film'
import type { Card, Shot } from '../project/picture'
import { add, divide, formatRational, multiply, rational, type Rational } from '../time/rational'
import { captureFactor } from './lay-shot'

/// The breakdown as a preview shows it while films are not there: in place of every shot that shows one of them stands a plain
/// card of about its length, with the words that `gone` has for the film. Everything else is as it was, so all other
/// shots lie where they will. A pair is a card as soon as one of its films is gone. A render takes the breakdown itself, and
/// refuses.
export function withoutFilms(breakdown: Breakdown, gone: ReadonlyMap<string, readonly string[]>): Breakdown {
  if (gone.size === 0) return breakdown
  const clips = new Map(breakdown.clips.map((clip) => [clip.id, clip]))
  const standIn = (shot: Shot): Shot => {
    const lines = clipsOfShot(shot).flatMap((id) => gone.get(clips.get(id)?.footage ?? '') ?? [])
    if (lines.length === 0) return shot
    const seconds = lengthOf(shot, clips, exact(breakdown.output.rate))
    return {
      card: 'text',
      lines: [...new Set(lines)],
      ...(seconds && seconds.n > 0 ? { seconds: formatRational(seconds) } : {}),
    } satisfies Card
  }
  return {
    ...breakdown,
    script: breakdown.script.map((row) => ('text' in row && row.shots ? { ...row, shots: row.shots.map(standIn) } : row)),
  }
}

/// How long a shot lasts, seconds. Exact for one that says it in seconds; a run's frames have no times while its film is
/// gone, and are counted as if the film ran at the output's rate.
function lengthOf(shot: Shot, clips: ReadonlyMap<string, Clip>, outputRate: Rational): Rational | null {
  if ('hold' in shot) return exact(shot.seconds)
  if ('pair' in shot) return add(divide(add(exact(shot.before), exact(shot.after)), exact(shot.speed)), exact(shot.still ?? '0'))
  if (!('run' in shot)) return null
  const clip = clips.get(shot.run)
  const pace = multiply(exact(shot.speed), (clip && captureFactor(clip)) ?? rational(1))
  return divide(divide(rational(shot.to - shot.from), outputRate), pace)
}
