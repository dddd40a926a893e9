import { eventFrame } from '../../app/programme/event-frame'
import type { Thread } from '../../app/programme/threads'
import type { Breakdown } from '../../app/project/breakdown'
import { clipName } from './clip-name'

/// How a word that is tied to an event stands among words, and what is said of it where it is not in step.

export interface CueLook {
  readonly className: string
  readonly title: string
}

export function cueLook(breakdown: Pick<Breakdown, 'events' | 'clips'> | null, id: string): CueLook {
  const event = breakdown?.events?.find((each) => each.id === id)
  if (!breakdown || !event)
    return {
      className: 'cue cue-gone',
      title: 'The event that it was tied to is not there any more. Mark it again on the Bench, or untie the word: Ctrl and full stop',
    }
  return { className: 'cue', title: `comes as ${event.name} is shown: ${clipName(breakdown, event.clip)}, frame ${eventFrame(event)}` }
}

/// A line for each cue of a paragraph that is not in step with its picture, in the order of the words.
export function outOfStep(breakdown: Pick<Breakdown, 'events'>, threads: readonly Thread[], paragraph: string): string[] {
  return threads.flatMap(({ paragraph: of, event, word, shown, late }) => {
    if (of !== paragraph || (shown !== null && late === 0)) return []
    const known = breakdown.events?.find((each) => each.id === event)
    if (!known) return [`“${word}” was tied to an event that is not there any more`]
    return [
      shown === null
        ? `“${word}” is said, but ${known.name} is not shown here`
        : `“${word}” is said ${framesText(late)} ${late > 0 ? 'after' : 'before'} ${known.name} is shown`,
    ]
  })
}

const framesText = (late: number): string => `${Math.abs(late)} ${Math.abs(late) === 1 ? 'frame' : 'frames'}`
