import type { Landmark, Sample } from '../../app/project/film'
import type { Truth } from '../film/truth'
import { dice, normal } from '../film/noise'

/// A person placing points: the truth plus the wobble of a hand, a little more where the limb is
/// hidden or smeared. What the breakdown holds is only ever what was "seen" this way.

/// One standard deviation of a careful click, pixels per axis.
export const HAND_PX = 2

export interface Wish {
  readonly film: string
  readonly clip: string
  readonly subject: string
  readonly point: string
  /// Footage frames to place it on.
  readonly frames: readonly number[]
  /// How often each is placed; more than one are repeats.
  readonly repeats?: number
  readonly origin?: 'placed' | 'tracked'
}

export function placePoints(wishes: readonly Wish[], truths: ReadonlyMap<string, Truth>, seed: number): Landmark[] {
  const landmarks = wishes.map((wish, w): Landmark => {
    const truth = truths.get(wish.film)
    const track = truth?.points.find((p) => p.name === wish.point)
    if (!truth || !track) throw new RangeError(`${wish.film} has no ${wish.point}`)
    const wobble = normal(dice(seed * 1009 + w * 31))
    const samples: Sample[] = []
    for (const frame of wish.frames) {
      const at = track.px[frame]
      const blur = track.blur[frame]
      if (!at || blur === undefined) throw new RangeError(`${wish.film} has no frame ${frame}`)
      const hidden = track.seen[frame] !== 's'
      const blurred = blur > 8
      const hand = wish.origin === 'tracked' ? 0.6 : HAND_PX * (hidden ? 1.8 : 1)
      for (let r = 0; r < (wish.repeats ?? 1); r++)
        samples.push({
          frame,
          at: [round(at[0] + hand * wobble()), round(at[1] + hand * wobble())],
          ...(hidden ? { seen: 'occluded' as const } : blurred ? { seen: 'blurred' as const } : {}),
          ...(blur >= 1 ? { blur: round(blur) } : {}),
          ...(wish.origin === 'tracked' ? { origin: 'tracked' as const } : {}),
        })
    }
    return { clip: wish.clip, subject: wish.subject, point: wish.point, samples }
  })
  const whole = new Map<string, Landmark>()
  for (const landmark of landmarks) {
    const key = `${landmark.clip} ${landmark.subject} ${landmark.point}`
    const known = whole.get(key)
    whole.set(key, known ? { ...known, samples: [...known.samples, ...landmark.samples].sort((a, b) => a.frame - b.frame) } : landmark)
  }
  return [...whole.values()]
}

/// A quarter pixel is as fine as a person places.
const round = (x: number): number => Math.round(x * 4) / 4
