import { sheetNames, type Command, type SheetName } from './bench-keys'

interface SheetTools {
  readonly isRunning: boolean
  readonly sheet: SheetName | null
  readonly onCommand: (command: Command) => void
}

/// Top right on the stage: stepping, running, and what may be asked for.
export function SheetTools({ isRunning, sheet, onCommand }: SheetTools) {
  return (
    <div className="bench-tools">
      <button
        type="button"
        onClick={() => onCommand({ do: 'step', by: -1 })}
        title="one frame back: left arrow"
        aria-label="One frame back"
      >
        ◂
      </button>
      <button type="button" onClick={() => onCommand({ do: 'step', by: 1 })} title="one frame on: right arrow" aria-label="One frame on">
        ▸
      </button>
      <button type="button" onClick={() => onCommand({ do: 'run', speed: 0.25 })} title="run slowly, or stop: space">
        {isRunning ? 'Stop' : 'Run'}
      </button>
      {sheetNames.map((name) => (
        <button key={name} type="button" aria-pressed={sheet === name} onClick={() => onCommand({ do: 'sheet', sheet: name })}>
          {name}
        </button>
      ))}
    </div>
  )
}

interface Tool {
  readonly name: string
  readonly key: string
  readonly what: string
  readonly command: Command
  /// Pressed or not, where it stays so.
  readonly on?: boolean
  readonly off?: boolean
}

interface HandTools {
  readonly placing: boolean
  /// How the point in turn is seen, while points are placed.
  readonly seen: 'seen' | 'occluded' | 'blurred'
  /// The point in hand, in words; null: all.
  readonly inHand: string | null
  readonly leads: boolean
  /// Points may be changed: somebody is named, and the project is not read only.
  readonly mayPlace: boolean
  readonly isLast: boolean
  readonly hasPoints: boolean
  readonly hasSuggested: boolean
  readonly isBeside: boolean
  /// Running over and over: not at all, from a frame on that was chosen, or between two.
  readonly loop: 'none' | 'begun' | 'whole'
  readonly onCommand: (command: Command) => void
}

/// Beneath the stage, one quiet row: what the hand can do with points and clips, by its name. Every button has a key.
export function HandTools({ placing, onCommand, ...now }: HandTools) {
  return (
    <div className="hand-tools" role="toolbar" aria-label={placing ? 'The point in turn' : 'Points and clips'}>
      {(placing ? whilePlacing(now) : otherwise(now)).map((group, i) => (
        <span key={i} className="tool-group">
          {group.map(({ name, key, what, command, on, off }) => (
            <button key={key} type="button" title={`${what}: ${key}`} aria-pressed={on} disabled={off} onClick={() => onCommand(command)}>
              {name}
            </button>
          ))}
        </span>
      ))}
    </div>
  )
}

type Now = Omit<HandTools, 'placing' | 'onCommand'>

const whilePlacing = ({ seen }: Now): readonly (readonly Tool[])[] => [
  [
    { name: 'Place here', key: 'Enter', what: 'place the point where the aim is', command: { do: 'place-here' } },
    { name: 'Next', key: 'space', what: 'the next point', command: { do: 'next' } },
    { name: 'Back', key: 'Backspace', what: 'take it back, or go to the point before', command: { do: 'back' } },
  ],
  [
    { name: 'Hidden', key: 'H', what: 'the point is hidden', command: { do: 'seen', seen: 'occluded' }, on: seen === 'occluded' },
    { name: 'Blurred', key: 'B', what: 'the point is blurred', command: { do: 'seen', seen: 'blurred' }, on: seen === 'blurred' },
  ],
  [{ name: 'Leave off', key: 'Esc', what: 'place no more', command: { do: 'leave' } }],
]

const otherwise = ({ inHand, leads, mayPlace, isLast, hasPoints, hasSuggested, isBeside, loop }: Now): readonly (readonly Tool[])[] => [
  [
    {
      name: `Point in hand: ${inHand ?? 'all'}`,
      key: 'N',
      what: 'take the next point of this frame in hand, after the last all',
      command: { do: 'in-hand' },
      off: !hasPoints && !hasSuggested,
    },
    leads
      ? { name: 'Keep it there', key: 'Enter', what: 'the point stays where the arrows led it', command: { do: 'let-go' } }
      : {
          name: 'Move it',
          key: 'Enter',
          what: 'move the point in hand by the arrows',
          command: { do: 'lead' },
          off: !mayPlace || inHand === null,
        },
    {
      name: 'Copy on',
      key: 'C',
      what: 'copy the points to the next frame, to be looked at there',
      command: { do: 'copy' },
      off: !mayPlace || isLast || !hasPoints,
    },
  ],
  [
    {
      name: 'Follow back',
      key: 'R',
      what: 'follow the point in hand, or all, back',
      command: { do: 'track', way: -1 },
      off: !mayPlace || !hasPoints,
    },
    {
      name: 'Follow on',
      key: 'T',
      what: 'follow the point in hand, or all, onward',
      command: { do: 'track', way: 1 },
      off: !mayPlace || !hasPoints,
    },
    {
      name: 'Follow the hall',
      key: 'G',
      what: 'follow ground and walls, so that the camera’s own motion is taken out',
      command: { do: 'hall' },
      off: !mayPlace,
    },
  ],
  [
    {
      name: 'Suggest',
      key: 'S',
      what: 'ask the pose model, where one is built in, for the points of this frame',
      command: { do: 'suggest' },
      off: !mayPlace,
    },
    {
      name: 'Accept',
      key: 'A',
      what: 'accept the suggested point in hand, or all',
      command: { do: 'accept' },
      off: !mayPlace || !hasSuggested,
    },
  ],
  [
    {
      name: loop === 'begun' ? 'Over and over: to here' : 'Over and over',
      key: 'O',
      what: 'run over and over: from here; to here; no longer',
      command: { do: 'loop' },
      on: loop !== 'none',
    },
    { name: 'Beside', key: 'D', what: 'a second clip beside this one, the next one, none', command: { do: 'beside' }, on: isBeside },
  ],
]
