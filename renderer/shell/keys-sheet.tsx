import { talkKeyWords } from '../narration/talk-keys'
import { Dialog } from '../sheets/dialog'

interface KeyGroup {
  readonly place: string
  readonly keys: readonly (readonly [string, string])[]
}

/// Every key of the window outside the Bench, which shows its own (“?” there).
const groups: readonly KeyGroup[] = [
  {
    place: 'Everywhere',
    keys: [
      ['Alt and 1 to 9', 'go to a room, in the order of the list'],
      ['Ctrl+Z', 'undo; also after the window was closed'],
      ['Ctrl+Shift+Z or Ctrl+Y', 'redo'],
      ['F1', 'this sheet'],
      ['Ctrl and plus, minus, 0', 'larger, smaller, as it was'],
    ],
  },
  {
    place: 'In the words',
    keys: [
      ['Ctrl and full stop', 'put in a value, or tie the word at hand to its frame'],
      ['Alt+V', 'say the value at the caret otherwise'],
      ['Enter', 'a new paragraph; the pictures stay with the words before'],
      ['Backspace at the start', 'join the paragraph above'],
      ['Alt+Page Up, Alt+Page Down', 'move the paragraph up or down'],
      ['Ctrl+Backspace in an empty paragraph', 'take the paragraph away'],
      ['Alt+H', 'a heading, or a paragraph again'],
      ['Alt+U', 'words that nobody says, or says again'],
      ['Ctrl+F', 'find, and put other words in place'],
      ['Alt+W', 'words that no list knows, one after the other'],
    ],
  },
  {
    place: 'In the pictures',
    keys: [
      ['Space', 'run to the paragraph’s end, or pause'],
      ['Shift+Space', 'run at half speed'],
      ['Ctrl+Space', 'run on to the end of the film'],
      ['Left, Right', 'one frame back or on'],
      ['Page Up, Page Down', 'ten frames back or on'],
      ['minus, plus', 'run the shot slower or faster'],
      ['X', 'cut the shot in two before this frame'],
      ['N', 'single frames in the time beside'],
      ['Alt+Left, Alt+Right on a shot', 'move the shot'],
      ['Alt+Up, Alt+Down on a shot', 'move it to the paragraph before or after'],
      ['Delete on a shot', 'delete it'],
      ['while pointing: arrows, Enter, Escape', 'move the cross, set a point, stop'],
    ],
  },
  {
    place: 'In Evidence',
    keys: [
      ['S', 'what the film says; Up and Down go through it'],
      ['Enter, Shift+Enter', 'confirm the sentence, or all with nothing open'],
      ['A to M, O', 'give or take a class; mark as your view'],
      ['Right, then Up, Down, Enter', 'to the frames that it rests on, to one on the Bench; Left: back'],
      ['P, W', 'its first frame on the Bench, its words in the Script'],
      ['Q', 'ask for a time of a published version'],
      ['V', 'the published versions; Up and Down go through them'],
      ['in a version: Y, N, P', 'copy its note, word it, put it into the description'],
      ['U', 'where a value, an event or a reference is used'],
      ['there: Right, Enter, Left', 'to its places, to the place, back; B: the Bench'],
      ['R', 'the references'],
    ],
  },
  {
    place: 'In Narration',
    keys: [
      ['R', 'record, or stop'],
      ['Up, Down', 'the paragraph before, the next'],
      ['Q', 'record the room’s quiet, or stop'],
      ['I', 'bring a sound file in'],
      ['Space', 'hear the take, or stop'],
      ['S, E', 'the take starts here, ends here'],
      ['C', 'the cue’s word is said now: while recording, or on the wave'],
      ['P', 'hear the sentence before a recording, or no longer'],
      ['T', 'talk over the picture, or no longer'],
      ...talkKeyWords.map(([key, what]) => [`talking: ${key}`, what] as const),
    ],
  },
]

export function KeysSheet({ onClose }: { readonly onClose: () => void }) {
  return (
    <Dialog title="Keys" onClose={onClose}>
      <div className="keys-list">
        {groups.map(({ place, keys }) => (
          <section key={place} aria-label={place}>
            <h3>{place}</h3>
            <dl>
              {keys.map(([key, what]) => (
                <div key={key}>
                  <dt>{key}</dt>
                  <dd>{what}</dd>
                </div>
              ))}
            </dl>
          </section>
        ))}
      </div>
      <p className="quiet">The Bench has keys of its own: press ? there.</p>
    </Dialog>
  )
}
