/// Names of body points: "knee.left", "hip.mid", "head.top". The part before the dot names the
/// place, the part after it the side. A name may also say `lead` or `rear`; the view card tells
/// which side that is on a frame.

export type Side = 'left' | 'right'
export type SideWord = Side | 'lead' | 'rear' | 'mid'

/// The side that a name carries, or null ("head.top", "ring.corner.1").
export function sideOf(name: string): SideWord | null {
  const last = name.slice(name.lastIndexOf('.') + 1)
  return last === 'left' || last === 'right' || last === 'lead' || last === 'rear' || last === 'mid' ? last : null
}

/// The name without its side: "knee.left" → "knee", "head.top" → "head.top".
export const placeOf = (name: string): string => (sideOf(name) === null ? name : name.slice(0, name.lastIndexOf('.')))

/// The same place on another side.
export const withSide = (name: string, side: SideWord): string => `${placeOf(name)}.${side}`

const otherSide = (side: Side): Side => (side === 'left' ? 'right' : 'left')

/// What is stored for a name: `lead` and `rear` become left or right. Null when the name needs the
/// lead side and it is not known.
export function storedName(name: string, lead: Side | null): string | null {
  const side = sideOf(name)
  if (side !== 'lead' && side !== 'rear') return name
  if (lead === null) return null
  return withSide(name, side === 'lead' ? lead : otherSide(lead))
}

/// Places of the hall that were followed by themselves: "background.1". They belong to nobody's body.
export const backgroundName = (index: number): string => `background.${index + 1}`
export const isBackground = (name: string): boolean => name.startsWith('background.')

/// Points of the hall that are placed by hand, in order: the ends of a line known to be upright or level, the ends of a known
/// length, a line on the floor along which a person faces (behind, ahead), lines at right angles, and marks on the floor. They are
/// stored with whoever is in hand, and belong to nobody's body.
export const hallLines = {
  upright: ['upright.1', 'upright.2'],
  level: ['level.1', 'level.2'],
  length: ['length.1', 'length.2'],
  facing: ['facing.1', 'facing.2'],
} as const
/// The two ends of one of several lines of a kind, from 0: level ones along one direction and across it, and upright ones. The first
/// upright line is the one that `hallLines` has.
export const lineEnds = (way: 'along' | 'across' | 'upright', index: number): readonly [string, string] => [
  `${way}.${2 * index + 1}`,
  `${way}.${2 * index + 2}`,
]
export const floorMarkName = (index: number): string => `floor.${index + 1}`
/// Whether a point is one of the hall: followed by itself, or placed as above.
export const isOfHall = (name: string): boolean =>
  isBackground(name) || /^(upright|level|length|facing|floor|along|across)\.\d+$/.test(name)

/// How a side is said: lead or rear where the lead side is known, else left or right.
export function sideWord(name: string, lead: Side | null): 'lead' | 'rear' | 'left' | 'right' | '' {
  const side = sideOf(name)
  if (side === null || side === 'mid') return ''
  if (side === 'left' || side === 'right') return lead === null ? side : side === lead ? 'lead' : 'rear'
  return side
}

/// A point in words: "rear knee", "head top", "ring corner 1"; of lines at right angles "line 2 along, first end".
export function sayPoint(name: string, lead: Side | null): string {
  const [, way, end] = /^(along|across|upright)\.(\d+)$/.exec(name) ?? []
  if (way !== undefined) return `line ${Math.ceil(Number(end) / 2)} ${way}, ${Number(end) % 2 === 1 ? 'first' : 'second'} end`
  const place = placeOf(name).replaceAll(/[.-]/g, ' ')
  const side = sideOf(name) === 'mid' ? 'middle of the' : sideWord(name, lead)
  return side === '' ? place : sideOf(name) === 'mid' ? `${side} ${place}s` : `${side} ${place}`
}
