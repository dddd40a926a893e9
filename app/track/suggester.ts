import { z } from 'zod'
import type { Point } from '../project/fields'

/// The door for a machine that suggests where body points lie: an offline model of poses, run in a worker. No model comes with
/// the program. What it says is shown with its confidence; nothing is stored, and nothing counts, until a person accepts it.

export interface SuggestedPoint {
  /// "knee.left"; a name that the body does not know is not shown.
  readonly point: string
  readonly at: Point
  /// The model's own, 0 to 1. It is shown, never turned into an error.
  readonly confidence: number
}

/// `Picture`: what it looks at, upright, in square pixels and unmirrored.
export interface Suggester<Picture> {
  /// Name and version, as they are shown beside what it says.
  readonly name: string
  /// What it sees on one picture; empty where it sees nobody. Rejects where it fails.
  suggest(picture: Picture): Promise<readonly SuggestedPoint[]>
}

const Said = z.array(z.object({ point: z.string().max(80), at: z.tuple([z.number(), z.number()]), confidence: z.number() })).max(1000)

/// A model's answer as it came out of its worker; null where it is none. Numbers that are no numbers make it none.
export function readSuggested(said: unknown): readonly SuggestedPoint[] | null {
  const parsed = Said.safeParse(said)
  return parsed.success ? parsed.data : null
}

/// What may be offered of a model's answer: known points, each once (the surest), inside the picture, with a confidence from
/// `least` on.
export function offered(
  suggested: readonly SuggestedPoint[],
  picture: { readonly width: number; readonly height: number },
  isKnown: (point: string) => boolean,
  least = 0.3,
): SuggestedPoint[] {
  const surest = new Map<string, SuggestedPoint>()
  for (const each of suggested) {
    const [x, y] = each.at
    const isInside = x >= 0 && y >= 0 && x <= picture.width && y <= picture.height
    if (!isKnown(each.point) || !isInside || !(each.confidence >= least && each.confidence <= 1)) continue
    if (each.confidence > (surest.get(each.point)?.confidence ?? 0)) surest.set(each.point, each)
  }
  return [...surest.values()]
}
