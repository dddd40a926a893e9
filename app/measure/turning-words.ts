import { sayLine } from '../body/body-line'
import { placeOf, sideWord, type Side } from '../body/landmark-name'

/// "rear knee", "hip line": what turns.
export function sayTurning(points: readonly string[], lead: Side | null): string {
  if (points.length === 2) return sayLine(points[0]!, points[1]!, lead)
  const vertex = points[1]!
  return `${sideWord(vertex, lead)} ${placeOf(vertex).replaceAll(/[.-]/g, ' ')}`.trim()
}
