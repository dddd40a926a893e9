import { speedText } from '../../app/programme/speed-badge'
import type { LaidShot } from '../../app/programme/programme'
import { exact } from '../../app/project/fields'
import { toNumber, type Rational } from '../../app/time/rational'

/// "run ¼×", "hold", "pair ⅛×", "card": what a shot is, in a word or two.
export function shotName(shot: LaidShot): string {
  const speed = 'speed' in shot.shot ? ` ${speedText(exact(shot.shot.speed)).replace(/×$/, '')}×` : ''
  if (shot.index < 0 && shot.kind === 'hold') return 'held for the words'
  return shot.kind === 'run' || shot.kind === 'pair' ? `${shot.kind}${speed}` : shot.kind
}

/// "0:07" of an output frame.
export function clock(frame: number, rate: Rational): string {
  const seconds = Math.floor(frame / toNumber(rate))
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`
}

export const lengthText = (frames: number, rate: Rational): string => `${(frames / toNumber(rate)).toFixed(1)} s`

const SPEEDS = ['1', '1/2', '1/4', '1/8', '2']
/// "¼×".
export const speedWord = (speed: string): string => `${speedText(exact(speed)).replace(/×$/, '')}×`
/// Speeds to choose from, the one that is set first.
export const speedOptions = (now: string): (readonly [string, string])[] =>
  [...new Set([now, ...SPEEDS])].map((speed) => [speed, speedWord(speed)] as const)
/// "92/30" as 3.0667: what a person reads; the fraction stays until another is typed.
export const secondsWord = (fraction: string): string => {
  const { n, d } = exact(fraction)
  return String(Number((n / d).toFixed(3)))
}
