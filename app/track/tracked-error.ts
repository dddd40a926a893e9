import type { Checks } from './follow-point'

/// How far a followed place may lie from where a hand would have put it: 1 σ per axis, px, beyond the placing's own error.

/// What lies on the skin moves otherwise than the joint beneath it, so a joint's error grows with the time since the placing,
/// with the stretch of its look (the part turns out of the picture's plane) and with its unlikeness. The powers are a
/// least-squares fit of log error over 11,000 one-way and 5,600 bridged places of 19 body points in three of the demo's drawn
/// films, whose truth is known (our own: no published figure was found). The factors are a third (a quarter) above those at
/// which 95 % lie within 2.45 σ there, for fists, elbows and hips are the hardest of the 19. The two other films took no part in
/// the powers; the factors and the limits below were set after looking at all five, so none of them is an unseen one.
const ONE_WAY = 8.8
const BRIDGED = 0.9
/// The figure stands about so tall on those films, px, and they were shot at so many frames a second.
const DRAWN_HEIGHT_PX = 340
const DRAWN_RATE = 120

/// A mark (a ball, a corner of the ring, a logo) is what is followed, not something beneath it. Fitted to patches moved over
/// a real film along known paths.
const MARK = 0.12
const MARK_UNLIKE = 1

/// Half width, in σ, of the circle that holds 95 % of two equal independent normal errors: √(−2 ln 0.05).
export const CIRCLE_95 = Math.sqrt(-2 * Math.log(0.05))

/// What is followed: its kind, the figure's height on the picture (px; null where not known), true frames a second.
export interface Trackable {
  readonly kind: 'joint' | 'mark'
  readonly figureHeight: number | null
  readonly rate: number
}

interface OneWay {
  readonly frames: number
  /// Px a frame.
  readonly speed: number
  readonly checks: Checks
}

/// Of a place followed from one placing alone, `frames` away from it.
export function oneWaySigma({ frames, speed, checks: { stretch, likeness, pull } }: OneWay, of: Trackable): number {
  if (of.kind === 'mark') return MARK * Math.max(1, frames) ** 0.25 + MARK_UNLIKE * (1 - likeness) + 0.25 * pull
  return grown(of) * ONE_WAY * sinceIn(of, frames) ** 0.25 * (stretch + 0.02) ** 0.565 * (1.02 - likeness) ** 0.15 * (speed + 1) ** 0.05
}

/// Of a place between two placings, reached from both. `frames`: to the nearer placing; `closing`: how far the worse of both
/// runs came out from the other placing, px.
export function bridgedSigma(
  { frames, stretch, closing }: { readonly frames: number; readonly stretch: number; readonly closing: number },
  of: Trackable,
): number {
  if (of.kind === 'mark') return MARK * frames ** 0.25 + 0.3 * closing
  return grown(of) * BRIDGED * sinceIn(of, frames) ** 0.33 * (closing + 0.3) ** 0.2 * (stretch + 0.02) ** 0.29
}

const grown = ({ figureHeight }: Trackable): number => Math.max(0.5, (figureHeight ?? DRAWN_HEIGHT_PX) / DRAWN_HEIGHT_PX)
/// The body turns by time, not by frames.
const sinceIn = ({ rate }: Trackable, frames: number): number => (frames * DRAWN_RATE) / rate

/// From this radius of its 95 % circle on, px, a place is shown as unsure, and the person is asked to look at it: narrower
/// where it was reached from one side only.
export const UNSURE_ONE_WAY = 2.3
export const UNSURE_BRIDGED = 3
/// Beyond this no place is kept.
export const MOST_RADIUS = 6
