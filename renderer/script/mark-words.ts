import type { Breakdown } from '../../app/project/breakdown'
import type { Mark, Place } from '../../app/project/picture'

/// A mark in words, as lists name it: "arrow to the left fist", "lead knee angle, lines and value".
export function markWords(mark: Mark, breakdown: Breakdown, labelOf: (measure: string) => string): string {
  if (typeof mark === 'string') return labelOf(mark)
  if ('plate' in mark) return `${labelOf(mark.plate)}, on a plate`
  const what = freeWords(mark, breakdown)
  const event = mark.on === undefined ? undefined : (breakdown.events?.find(({ id }) => id === mark.on)?.name ?? mark.on)
  return event === undefined ? what : `${what}, from ${event}`
}

function freeWords(mark: Exclude<Mark, string | { plate: string }>, breakdown: Breakdown): string {
  const place = (at: Place): string => ('subject' in at ? pointWords(at.point, at.subject, breakdown) : 'a fixed place')
  if ('arrow' in mark) return `arrow to ${place(mark.arrow[1])}`
  if ('ring' in mark) return `ring round ${place(mark.ring)}`
  if ('line' in mark) return `line from ${place(mark.line[0])} to ${place(mark.line[1])}`
  if ('path' in mark) return 'path'
  if ('trail' in mark) return `way of ${pointWords(mark.trail.point, mark.trail.subject, breakdown)}`
  if ('word' in mark) return `“${mark.word}” at ${place(mark.at)}`
  return 'all but a part dimmed'
}

function pointWords(point: string, subject: string, breakdown: Breakdown): string {
  const name = breakdown.subjects.find(({ id }) => id === subject)?.name ?? subject
  return `${breakdown.subjects.length > 1 ? `${name}’s ` : 'the '}${pointName(point)}`
}

/// "left hip", "middle of the hips".
export function pointName(point: string): string {
  const [part = point, side] = point.split('.')
  return side === undefined ? part : side === 'mid' ? `middle of the ${part}s` : `${side} ${part}`
}
