import type { PartName } from './effect'
import type { Reading } from './reading'

/// What would shrink a reading's error most.

const ADVICE: Readonly<Record<PartName, string>> = {
  click: 'place the points three times without seeing the earlier ones',
  placing: 'place the points more precisely, on a larger or sharper picture',
  anatomical: 'choose a picture on which the joints show through less kit',
  blur: 'choose a frame with less motion blur',
  plane: 'choose a camera that sees the limb from the side',
  roll: 'find something upright in the picture and state the roll from it',
  event: "narrow the event's bracket, or use a faster film",
  scale: 'measure the unit or the scale more precisely',
  'capture factor': 'link the capture factor by events further apart',
  filter: 'use a faster film, so that smoothing takes less away',
  'camera motion': 'follow more background points, spread over the picture',
  'floor marks': 'place the floor marks more precisely, or marks nearer the feet',
  width: 'measure the widths on a frame that is nearer to square',
  tilt: 'use a camera that looks down more steeply',
  model: 'place more of the body',
  judging: 'look at it again without seeing this value',
  elevation: "state the camera's elevation more precisely",
  view: 'compare clips whose cameras look from one direction',
}

/// What makes a value judged by eye a measured one, by its unit: the kinds that answer in it.
const MEASURED_IN: Readonly<Record<string, string>> = {
  '°': 'place its points and measure the angle',
  '°/s': 'place its points on the frames around and measure how fast it turns',
  s: 'mark both events and measure the time between them',
  frames: 'mark both events and count the frames between them',
  m: 'place its points and measure the distance',
  cm: 'place its points and measure the distance',
  'm/s': 'place the point on the frames around and measure its speed',
  'head heights': 'place its points and measure the distance',
  'trunk lengths': 'place its points and measure the distance',
}

/// The model of a kind that more of the body does not mend.
const TURNED = 'measure it from a camera that looks down from above'

function adviceOn(part: PartName, { kind, unit }: Reading): string {
  if (part === 'judging') return [...(Object.hasOwn(MEASURED_IN, unit) ? [MEASURED_IN[unit]] : []), ADVICE[part]].join(', or ')
  return part === 'model' && kind === 'separation' ? TURNED : ADVICE[part]
}

/// What an answer without parts hangs on, and what would make it surer.
const BARE: Readonly<Record<string, readonly [from: string, advice: string]>> = {
  count: ['so few cases alone', 'look at more cases, chosen before they are looked at'],
  order: ['the brackets of both events', 'narrow the brackets of both events'],
  'peak-order': ['the intervals of both peak times', 'follow the points on more frames of a faster film'],
}

/// What an answer without parts of an error is unsure by; null for one that has parts, or none to speak of.
export const bareError = (reading: Reading): { readonly from: string; readonly advice: string | null } | null => {
  const bare = reading.parts.length === 0 ? BARE[reading.kind] : undefined
  // Where the order is resolved nothing more is to be gained.
  return bare ? { from: bare[0], advice: reading.kind === 'count' || reading.verdict === 'range' ? bare[1] : null } : null
}

/// The largest part, what to do about it, and the U that would be left without it; null for a
/// reading without parts.
export function whatWouldShrink(reading: Reading): { readonly part: string; readonly advice: string; readonly leaves: number } | null {
  const [largest, ...others] = reading.parts
  if (!largest) return null
  return { part: largest.name, advice: adviceOn(largest.name as PartName, reading), leaves: Math.hypot(...others.map((p) => p.U)) }
}
