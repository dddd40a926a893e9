import type { CurvePoint } from '../measure/curve'
import type { Laid, SmoothPoint } from '../measure/smooth-curve'
import { secondsAt, type FrameTable } from '../time/frame-table'
import { quotedIfNeeded } from './readings-csv'

/// Another clip's curve as it was laid over.
export interface LaidTable {
  /// Names of both clips, the own one first.
  readonly clips: readonly [string, string]
  /// The event that both are aligned on.
  readonly on: string
  readonly points: readonly Laid[]
  readonly table: FrameTable
}

/// A curve as comma-separated values: frame, seconds of the file, value and 95 %, and the values smoothed at two cut-offs. With
/// another clip's curve laid over it two columns go before, clip and event, and one more tells where in the own clip's frames a
/// row lies; frame and seconds are those of the row's own film. Where only a range can be said, the value is left empty.
export function curveCsv(
  curve: readonly CurvePoint[],
  smooth: readonly (readonly SmoothPoint[])[],
  table: FrameTable,
  unit: string,
  over: LaidTable | null = null,
): string {
  const smoothed = new Map(smooth.flat().map((point) => [point.frame, point]))
  const aside = (clip: 0 | 1, at: number): string[] =>
    over ? [quotedIfNeeded(over.clips[clip]), quotedIfNeeded(over.on), at.toFixed(4)] : []
  const row = (
    of: FrameTable,
    frame: number,
    { value, low, high, range }: Pick<CurvePoint, 'value' | 'low' | 'high' | 'range'>,
  ): string[] => [String(frame), secondsAt(of, frame).toFixed(6), range ? '' : value.toFixed(4), low.toFixed(4), high.toFixed(4)]
  const head = [
    ...(over ? ['clip', 'aligned_on', 'aligned_frame'] : []),
    'frame',
    'file_seconds',
    `value_${unit.replaceAll('°', 'deg').replaceAll(/[^a-zA-Z0-9]+/g, '_')}`,
    'low_95',
    'high_95',
    'smoothed',
    'smoothed_lower_cutoff',
  ]
  const own = curve.map((point) => {
    const s = smoothed.get(point.frame)
    return [...aside(0, point.frame), ...row(table, point.frame, point), s?.value.toFixed(4) ?? '', s?.lower.toFixed(4) ?? '']
  })
  const other = (over?.points ?? []).map((point) => [...aside(1, point.frame), ...row(over!.table, point.there, point), '', ''])
  return [head, ...own, ...other].map((cells) => `${cells.join(',')}\r\n`).join('')
}
