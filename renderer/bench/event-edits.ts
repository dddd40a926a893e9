import type { Change } from '../../app/edit/edit'
import { recapture } from '../../app/measure/capture-link'
import { measureContext } from '../../app/measure/context'
import type { Breakdown } from '../../app/project/breakdown'
import type { Event } from '../../app/project/film'
import type { FrameTable } from '../../app/time/frame-table'
import { updating } from '../state/record-change'

/// An event in another shape, as one edit: a clip whose speed comes from shared events is given the speed that they tell now,
/// so that what only plays the clip stays with what is measured on it.
export function changeEvent(
  breakdown: Breakdown,
  tableOf: (footage: string) => FrameTable | null,
  event: Event,
  next: Event,
  label: string,
): Omit<Change, 'selection'> {
  const context = measureContext(
    { ...breakdown, events: (breakdown.events ?? []).map((each) => (each.id === event.id ? next : each)) },
    tableOf,
  )
  const retimed = breakdown.clips.flatMap((clip) => {
    const capture = recapture(context, clip)
    return JSON.stringify(capture) === JSON.stringify(clip.capture) ? [] : [updating('clips', clip, { ...clip, capture })]
  })
  return { label, steps: [], diffs: [updating('events', event, next), ...retimed] }
}
