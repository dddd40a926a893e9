import { floorMarkName } from '../../app/body/landmark-name'
import type { FloorPlane, MarkOnFloor } from '../../app/measure/floor-plane'
import { offBy } from '../../app/measure/floor-plane'
import { Hall, type Floor } from '../../app/project/hall'

/// Marks of a floor as they stand in their fields, before they are stated.

export interface MarkRow {
  readonly point: string
  readonly across: string
  readonly along: string
}

/// What stands in the fields of a floor.
export interface FloorDraft {
  readonly rows: readonly MarkRow[]
  readonly unit: string
  /// Per cent.
  readonly share: string
  /// The floor as it was stated when the fields were filled.
  readonly stated: string
  /// What was stated from here, while it is on the way; what is typed meanwhile stays.
  readonly sent: string
}

const LEAST = 4
const MOST = 50
const empty = (point: string): MarkRow => ({ point, across: '', along: '' })

/// A floor's marks; without one, those that are placed already, four at least.
export function rowsOf(floor: Floor | undefined, isPlaced: (point: string) => boolean): MarkRow[] {
  if (floor) return floor.marks.map(({ point, at: [across, along] }) => ({ point, across: String(across), along: String(along) }))
  let rows: readonly MarkRow[] = Array.from({ length: MOST }, (_, i) => floorMarkName(i))
    .filter(isPlaced)
    .map(empty)
  while (rows.length < LEAST) rows = withMark(rows)
  return [...rows].sort((a, b) => Number(markWord(a.point)) - Number(markWord(b.point)))
}

/// The fields as a floor was stated; without one, with those marks that are placed already.
export const freshDraft = (floor: Floor | undefined, isPlaced: (point: string) => boolean): FloorDraft => ({
  stated: JSON.stringify(floor ?? null),
  sent: '',
  rows: rowsOf(floor, isPlaced),
  unit: floor?.unit ?? 'm',
  share: String(floor ? Number((100 * floor.u).toFixed(3)) : 2),
})

/// A draft as it stands now, itself where nothing else was stated: what is stated elsewhere, or undone, takes its place.
export function draftNow(draft: FloorDraft | undefined, floor: Floor | undefined, isPlaced: (point: string) => boolean): FloorDraft {
  const stated = JSON.stringify(floor ?? null)
  if (draft?.stated === stated) return draft
  return draft?.sent === stated ? { ...draft, stated, sent: '' } : freshDraft(floor, isPlaced)
}

/// The fields say something else than what was stated.
export function isChanged({ rows, unit, share }: Pick<FloorDraft, 'rows' | 'unit' | 'share'>, floor: Floor | undefined): boolean {
  const fresh = freshDraft(floor, () => false)
  return JSON.stringify([rows, unit, share]) !== JSON.stringify([fresh.rows, fresh.unit, fresh.share])
}

/// One mark more, by the first name that is free. The same rows where there is no room.
export function withMark(rows: readonly MarkRow[]): readonly MarkRow[] {
  const free = Array.from({ length: MOST }, (_, i) => floorMarkName(i)).find((point) => !rows.some((row) => row.point === point))
  return free === undefined || rows.length >= MOST ? rows : [...rows, empty(free)]
}

/// Without a mark; the same rows where a floor would be left with fewer than four.
export const withoutMark = (rows: readonly MarkRow[], point: string): readonly MarkRow[] =>
  rows.length > LEAST ? rows.filter((row) => row.point !== point) : rows

export const canLose = (rows: readonly MarkRow[]): boolean => rows.length > LEAST

/// The floor that the fields say; null while one of them is empty or no number.
export function floorOf(rows: readonly MarkRow[], subject: string, unit: string, share: string): Floor | null {
  if (rows.some(({ across, along }) => across.trim() === '' || along.trim() === '') || share.trim() === '' || unit.trim() === '')
    return null
  const read = Hall.shape.floor.safeParse({
    subject,
    marks: rows.map(({ point, across, along }) => ({ point, at: [Number(across), Number(along)] })),
    unit: unit.trim(),
    u: Number(share) / 100,
  })
  return read.success ? (read.data ?? null) : null
}

/// "1", or a name of its own where the document gave it one.
export const markWord = (point: string): string => /^floor\.(\d+)$/.exec(point)?.[1] ?? point.replaceAll('.', ' ')

const NUMBERS = ['four', 'five', 'six', 'seven', 'eight', 'nine', 'ten']
export const numberWord = (n: number): string => NUMBERS[n - LEAST] ?? String(n)

/// "0.04 m".
export function lengthWords(value: number, unit: string): string {
  return `${value.toFixed(value < 9.995 ? 2 : 1)} ${unit}`
}

/// How far a mark is off, as it stands beside it; of four marks nothing is known, for they always fit.
export const offWords = (mark: MarkOnFloor | undefined, plane: FloorPlane | null, unit: string): string =>
  mark && plane && plane.fit.freedom > 0 ? lengthWords(offBy(mark), unit) : '–'

/// What the marks say of the floor together.
export function fitWords({ fit, marks, spread, astray, warnings }: FloorPlane, unit: string): string {
  if (fit.freedom === 0) return 'Four marks always fit. A fifth tells how well they do, a sixth which one is off.'
  const mean = Math.sqrt(marks.reduce((sum, mark) => sum + offBy(mark) ** 2, 0) / marks.length)
  const off = `The marks are ${lengthWords(mean, unit)} off in the mean`
  if (astray)
    return `Mark ${markWord(astray.mark.point)} lies ${lengthWords(offBy(astray), unit)} from where the others put it. It stays in the floor, and its error in what is measured there, until it is placed anew, its place is corrected, or it is taken away.`
  if (warnings.length > 0)
    return `${off}: more than placing them explains, and they do not tell which of them it is.${fit.freedom < 12 ? ' More marks would.' : ''} The error of what is measured here is ${spread.toFixed(1)} times what the placings alone would give, and more.`
  return `${off}, which their placing explains.`
}
