import { stepCommandOf, type StepCommand } from '../player/step-keys'

/// The Bench's keys: what each does, while points are being placed and otherwise. One list for the hand and for the page
/// that tells of it.

export type Command =
  | StepCommand
  | { readonly do: 'nudge'; readonly by: readonly [number, number] }
  | { readonly do: 'run'; readonly speed: number }
  | { readonly do: 'zoom'; readonly by: number }
  | { readonly do: 'track'; readonly way: -1 | 1 }
  | { readonly do: 'seen'; readonly seen: 'occluded' | 'blurred' }
  | { readonly do: 'blur-length'; readonly digit: string }
  | {
      readonly do:
        | 'whole'
        | 'place-here'
        | 'lead'
        | 'let-go'
        | 'next'
        | 'back'
        | 'leave'
        | 'guide'
        | 'copy'
        | 'into-script'
        | 'into-film'
        | 'hall'
        | 'in-hand'
        | 'accept'
        | 'suggest'
        | 'beside'
        | 'loop'
    }
  | { readonly do: 'step-beside' | 'step-own'; readonly by: number }
  | { readonly do: 'pan'; readonly by: readonly [number, number] }
  | { readonly do: 'sheet'; readonly sheet: SheetName }

export const sheetNames = ['Measures', 'Events', 'View', 'Points', 'Keys'] as const
export type SheetName = (typeof sheetNames)[number]

/// A quarter of a picture pixel; with shift, five pixels.
export const NUDGE = 0.25
export const FAR_NUDGE = 5
/// Stage pixels that the picture is moved by a key.
export const PAN = 80
/// Run of a clip while it is measured, and with shift.
const SLOW = 0.25

const arrows: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
}

/// What the hand is about: it places points one after another, leads the one that it holds, or is free.
export type Hand = 'places' | 'leads' | 'free'

interface Key {
  readonly key: string
  readonly shiftKey: boolean
  readonly altKey?: boolean
}

/// Null: not a key of the Bench.
export function commandOf({ key, shiftKey, altKey = false }: Key, hand: Hand): Command | null {
  const arrow = arrows[key]
  const placing = hand === 'places'
  if (altKey)
    return arrow
      ? { do: 'pan', by: [0 - arrow[0] * PAN, 0 - arrow[1] * PAN] }
      : key === ',' || key === '.'
        ? { do: 'step-own', by: key === ',' ? -1 : 1 }
        : null
  if (arrow && hand !== 'free')
    return { do: 'nudge', by: [arrow[0] * (shiftKey ? FAR_NUDGE : NUDGE), arrow[1] * (shiftKey ? FAR_NUDGE : NUDGE)] }
  if (placing && /^[1-9]$/.test(key)) return { do: 'blur-length', digit: key }
  const stepped = stepCommandOf({ key, shiftKey })
  if (stepped) return stepped
  switch (key.length === 1 ? key.toLowerCase() : key) {
    case ' ':
      return placing ? { do: 'next' } : { do: 'run', speed: shiftKey ? 1 : SLOW }
    case 'Enter':
      return { do: placing ? 'place-here' : hand === 'leads' ? 'let-go' : 'lead' }
    case 'Backspace':
      return placing ? { do: 'back' } : null
    case 'Escape':
      return { do: 'leave' }
    case 'h':
      return placing ? { do: 'seen', seen: 'occluded' } : null
    case 'b':
      return placing ? { do: 'seen', seen: 'blurred' } : null
    case '+':
    case '=':
      return { do: 'zoom', by: 1.25 }
    case '-':
      return { do: 'zoom', by: 0.8 }
    case '0':
      return { do: 'whole' }
    case 'p':
      return { do: 'guide' }
    case 'c':
      return { do: 'copy' }
    case 't':
      return { do: 'track', way: 1 }
    case 'r':
      return { do: 'track', way: -1 }
    case 'n':
      return { do: 'in-hand' }
    case 'o':
      return { do: 'loop' }
    case 'd':
      return { do: 'beside' }
    case '<':
      return { do: 'step-beside', by: -1 }
    case '>':
      return { do: 'step-beside', by: 1 }
    case 's':
      return { do: 'suggest' }
    case 'a':
      return { do: 'accept' }
    case 'i':
      return { do: 'into-script' }
    case 'f':
      return { do: 'into-film' }
    case 'g':
      return { do: 'hall' }
    case 'm':
      return { do: 'sheet', sheet: 'Measures' }
    case 'e':
      return { do: 'sheet', sheet: 'Events' }
    case 'v':
      return { do: 'sheet', sheet: 'View' }
    case 'l':
      return { do: 'sheet', sheet: 'Points' }
    case '?':
      return { do: 'sheet', sheet: 'Keys' }
    default:
      return null
  }
}

/// What the keys do, in words.
export const keyWords: readonly (readonly [string, string])[] = [
  ['← → or , .', 'one frame; with shift, or page keys, ten'],
  ['Home, End', 'the clip’s first and last frame'],
  ['[ ]', 'the event before, the event after'],
  ['space', 'run at a quarter of full speed, or stop; with shift at full speed'],
  ['O', 'run over and over: from here; to here; no longer'],
  ['+ −, wheel', 'nearer, further; what is under the pointer stays there'],
  ['0', 'the whole picture'],
  ['Alt + arrows', 'look further that way'],
  ['P', 'place points, one after another, three times'],
  ['arrows, while placing', 'a quarter of a pixel; with shift, five pixels'],
  ['Enter, or click', 'place the point'],
  ['space, while placing', 'the next point'],
  ['Backspace, while placing', 'take it back, or go to the point before'],
  ['H, B, while placing', 'hidden, blurred'],
  ['digits, while blurred', 'over so many pixels across the limb, then Enter'],
  ['drag, while blurred', 'the same, drawn over the smear, on the picture or in the square beside it'],
  ['Esc', 'leave off'],
  ['C', 'copy the points to the next frame, to be looked at there'],
  ['N', 'take the next point of this frame in hand; after the last, all'],
  ['Enter', 'move the point in hand by the arrows; Enter keeps it, Esc takes it back'],
  ['T, R', 'follow the point in hand, or all, onward; back'],
  ['G', 'follow the ground and walls behind the people, so that the camera’s own motion is taken out'],
  ['D', 'a second clip beside this one, locked on an event that both share; the next one; none'],
  ['< >', 'step the clip beside alone'],
  ['Alt + , .', 'step this clip alone, the one beside stays'],
  ['S', 'ask the pose model, where one is built in, for the points of this frame'],
  ['A', 'accept the suggested point in hand, or all'],
  ['M E V L', 'measures, events, the view, the points'],
  ['I', 'put the chosen value into the script'],
  ['F', 'put the chosen curve into the film, as a card'],
]
