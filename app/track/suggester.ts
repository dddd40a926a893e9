import type { Point } from '../project/fields'
import type { GreyPicture } from './grey-picture'

/// The door for a machine that suggests where body points lie: an offline model of poses, run in a worker. No model comes with
/// the program. What it says is shown with its confidence; nothing is stored, and nothing counts, until a person accepts it.

export interface SuggestedPoint {
  /// "knee.left"; a name that the body does not know is not shown.
  readonly point: string
  readonly at: Point
  /// The model's own, 0 to 1. It is shown, never turned into an error.
  readonly confidence: number
}

export interface Suggester {
  /// Name and version, as they are to stand in the evidence.
  readonly name: string
  /// What it sees on one picture; empty where it sees nobody. Rejects where it fails.
  suggest(picture: GreyPicture): Promise<readonly SuggestedPoint[]>
}

/// What may be offered of a model's answer: known points, each once (the surest), inside the picture, with a confidence from
/// `least` on.
export function offered(suggested: readonly SuggestedPoint[], picture: { readonly width: number; readonly height: number }, isKnown: (point: string) => boolean, least = 0.3): SuggestedPoint[] {
  const surest = new Map<string, SuggestedPoint>()
  for (const each of suggested) {
    const [x, y] = each.at
    const isInside = x >= 0 && y >= 0 && x <= picture.width && y <= picture.height
    if (!isKnown(each.point) || !isInside || !(each.confidence >= least && each.confidence <= 1)) continue
    if (each.confidence > (surest.get(each.point)?.confidence ?? 0)) surest.set(each.point, each)
  }
  return [...surest.values()]
}
