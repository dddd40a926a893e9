import { stepCommandOf, type StepCommand } from '../player/step-keys'
import type { Tool } from '../script/pointing'

/// The keys under which the picture lies while it is talked over: what each does. One list for the hand and for the page
/// that tells of it.

export type TalkCommand =
  | { readonly do: 'run' | 'clear' | 'clip' }
  | { readonly do: 'speed'; readonly way: -1 | 1 }
  | StepCommand
  | { readonly do: 'point'; readonly tool: TalkTool }

export const talkTools = ['arrow', 'ring', 'line', 'path'] as const satisfies readonly Tool[]
export type TalkTool = (typeof talkTools)[number]

/// Speeds of a run, slow to fast.
export const talkSpeeds = ['1/8', '1/4', '1/2', '1'] as const
export type TalkSpeed = (typeof talkSpeeds)[number]

const letters: Readonly<Record<string, TalkTool>> = { a: 'arrow', o: 'ring', l: 'line', p: 'path' }

/// The speed next to one; itself at either end.
export const speedBeside = (speed: TalkSpeed, way: -1 | 1): TalkSpeed => talkSpeeds[talkSpeeds.indexOf(speed) + way] ?? speed

export function talkCommandOf({ key, shiftKey }: { readonly key: string; readonly shiftKey: boolean }): TalkCommand | null {
  const tool = letters[key.toLowerCase()]
  if (tool) return { do: 'point', tool }
  switch (key) {
    case ' ':
      return { do: 'run' }
    case '-':
      return { do: 'speed', way: -1 }
    case '+':
    case '=':
      return { do: 'speed', way: 1 }
    case 'Backspace':
      return { do: 'clear' }
    case 'n':
    case 'N':
      return { do: 'clip' }
    default:
      return stepCommandOf({ key, shiftKey })
  }
}

/// What the keys do, in words.
export const talkKeyWords: readonly (readonly [string, string])[] = [
  ['Space', 'run, or stop'],
  ['minus, plus', 'slower, faster; while it runs, at once'],
  ['Left, Right', 'one frame back or on, and stand; with shift, or page keys, ten'],
  ['[ ]', 'the event before, the event after'],
  ['Home, End', 'the clip’s first and last frame'],
  ['N', 'the next clip'],
  ['A, O, L, P', 'point with an arrow, a ring, a line, a path: arrow keys and Enter; or drag on the picture'],
  ['Backspace', 'take the marks away'],
]
