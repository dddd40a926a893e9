import { useRef, type Ref } from 'react'
import { soundUploadAddress } from '../../app/contract/addresses'
import { readReply } from '../../app/contract/refusal'
import { Take } from '../../app/contract/take-calls'

interface Props {
  readonly paragraph: string
  readonly disabled: boolean
  /// Words for the person: what goes on, or what was wrong with the file.
  readonly tell: (words: string) => void
  readonly onTake: (take: Take) => void
  /// The input of one paragraph's file, for a key.
  readonly input: Ref<HTMLInputElement>
}

/// Narration that was recorded elsewhere: a file for this paragraph, or one for the whole script.
export function BringSound({ paragraph, disabled, tell, onTake, input }: Props) {
  const one = useRef<HTMLInputElement | null>(null)
  const whole = useRef<HTMLInputElement | null>(null)
  const bring = async (file: File | undefined, of: string | null): Promise<void> => {
    if (!file) return
    tell(`bringing in ${file.name} …`)
    const answer = await fetch(soundUploadAddress(file.name, of), {
      method: 'POST',
      headers: { 'content-type': 'application/octet-stream' },
      body: file,
    }).catch(() => null)
    const reply = readReply(await answer?.json().catch(() => null))
    if (reply.ok) onTake(Take.parse(reply.value))
    else tell(reply.error.message)
  }
  const chooser = (label: string, of: string | null, hold: (element: HTMLInputElement | null) => void) => (
    <input
      type="file"
      hidden
      aria-label={label}
      accept="audio/*,.wav,.flac,.mp3,.m4a"
      ref={hold}
      disabled={disabled}
      onChange={(event) => {
        void bring(event.target.files?.[0], of)
        event.target.value = ''
      }}
    />
  )
  return (
    <div className="bring-sound">
      {chooser('A sound file of this paragraph', paragraph, (element) => {
        one.current = element
        if (typeof input === 'function') input(element)
        else if (input) input.current = element
      })}
      {chooser('A sound file of the whole script', null, (element) => void (whole.current = element))}
      <span className="quiet">recorded elsewhere:</span>
      <button type="button" title="I" disabled={disabled} onClick={() => one.current?.click()}>
        This paragraph …
      </button>
      <button type="button" disabled={disabled} onClick={() => whole.current?.click()}>
        Whole script …
      </button>
    </div>
  )
}
