import { useEffect, useRef, useState } from 'react'
import type { ScriptSplit, SplitPiece } from '../../app/align/split-script'
import { takeAddress } from '../../app/contract/addresses'
import type { Take } from '../../app/contract/take-calls'
import type { Paragraph } from '../../app/project/picture'
import { spokenText, type Readings } from '../../app/script/spoken-form'
import { Dialog } from '../sheets/dialog'

interface Props {
  readonly take: Take
  readonly split: ScriptSplit
  readonly paragraphs: readonly Paragraph[]
  readonly readings: Readings
  readonly onUse: (pieces: readonly SplitPiece[]) => void
  readonly onClose: () => void
}

/// What was found of the script in one recording of all of it, for the person to hear and confirm.
export function SplitSheet({ take, split, paragraphs, readings, onUse, onClose }: Props) {
  const [left, setLeft] = useState<ReadonlySet<string>>(new Set())
  const [hearing, setHearing] = useState<string | null>(null)
  const sound = useRef<HTMLAudioElement | null>(null)
  const stop = (): void => {
    sound.current?.pause()
    sound.current = null
    setHearing(null)
  }
  useEffect(() => stop, [])
  const hear = ({ paragraph, from, to }: SplitPiece): void => {
    const was = hearing
    stop()
    if (was === paragraph) return
    const played = new Audio(takeAddress(take.id))
    sound.current = played
    played.currentTime = from
    played.ontimeupdate = () => played.currentTime >= to && sound.current === played && stop()
    setHearing(paragraph)
    void played.play().catch(stop)
  }
  const used = split.pieces.filter(({ paragraph }) => !left.has(paragraph))
  const flip = (id: string): void =>
    setLeft((before) => new Set(before.has(id) ? [...before].filter((each) => each !== id) : [...before, id]))
  return (
    <Dialog title={`What ${take.source ?? take.id} holds`} onClose={onClose}>
      <ol className="split-list">
        {paragraphs.map((paragraph, i) => {
          const piece = split.pieces.find((each) => each.paragraph === paragraph.id)
          return (
            <li key={paragraph.id}>
              <label>
                <input
                  type="checkbox"
                  disabled={!piece}
                  checked={piece !== undefined && !left.has(paragraph.id)}
                  onChange={() => flip(paragraph.id)}
                />
                <span className="figures">{i + 1}</span> <span className="beginning">{spokenText(paragraph, readings)}</span>
              </label>
              {piece ? (
                <span className="figures">
                  {clock(piece.from)} – {clock(piece.to)}
                </span>
              ) : (
                <span className="open-words">not found</span>
              )}
              {piece ? (
                <button
                  type="button"
                  aria-label={`${hearing === paragraph.id ? 'Stop' : 'Hear'} paragraph ${i + 1}`}
                  onClick={() => hear(piece)}
                >
                  {hearing === paragraph.id ? 'Stop' : 'Hear'}
                </button>
              ) : (
                <span />
              )}
              {piece &&
                remarksOf(piece).map((remark) => (
                  <p key={remark} className="open-words">
                    {remark}
                  </p>
                ))}
            </li>
          )
        })}
      </ol>
      {split.other && (
        <p className="open-words">Something else than the script was said in it: hear where each paragraph begins and ends.</p>
      )}
      {split.by === 'reference' && (
        <p className="quiet">
          No recogniser is installed: the words are less exact, and a paragraph that is missing cannot be told. Hear where each begins and
          ends.
        </p>
      )}
      <p className="quiet">The file stays as it is. The takes go into the film as one step, which one undo takes back.</p>
      <div className="sheet-steps">
        <button type="button" className="main-action" disabled={used.length === 0} onClick={() => onUse(used)}>
          {used.length === 1 ? 'Use this take' : `Use these ${used.length} takes`}
        </button>
        <button type="button" onClick={onClose}>
          Not now
        </button>
      </div>
    </Dialog>
  )
}

const clock = (seconds: number): string => `${Math.floor(seconds / 60)}:${(seconds % 60).toFixed(1).padStart(4, '0')}`

const remarksOf = ({ found }: SplitPiece): string[] => [
  ...found.leftOut.map((words) => `“${words}” was not heard`),
  ...found.repeated.map(({ words }) => `“${words}” was said twice; the later copy counts`),
]
