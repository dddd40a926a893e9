import { useEffect, useRef, useState } from 'react'
import { lastSentence, staleWords } from '../../app/align/tie-take'
import { CONFIRM_ABOVE, TAPPED_U } from '../../app/align/take-words'
import type { Take } from '../../app/contract/take-calls'
import { expectedSound, ownRate } from '../../app/programme/own-rate'
import type { Shot } from '../../app/project/picture'
import { heardWords } from '../../app/script/pauses'
import { spokenText } from '../../app/script/spoken-form'
import { toNumber } from '../../app/time/rational'
import { engine } from '../state/engine'
import { goTo, usePlace } from '../state/place'
import { useProject, useShown } from '../state/use-project'
import { BringPicturesBox, FIRST_PACE } from './bring-pictures-box'
import { BringSound } from './bring-sound'
import { CueList } from './cue-list'
import { foundWords } from './found-words'
import { leadIn } from './lead-in'
import { MicrophoneChoice } from './microphone-choice'
import { PromptSteps } from './prompt-steps'
import { RATE } from './recorder'
import { RecordingFigures } from './recording-figures'
import { RoomToneBox } from './room-tone-box'
import { SpokenWords } from './spoken-words'
import { bringPictures, chooseRoomTone, chooseTakes, chooseTalkOver, placeCue, solvedShots, trimTake, unheard } from './take-edits'
import { TakeLane } from './take-lane'
import { quoted, TakeList } from './take-list'
import { TakePlayer } from './take-player'
import { TalkOver } from './talk-over'
import type { TalkPicture } from './talk-picture'
import { useMicrophones } from './use-microphones'
import { useRecording } from './use-recording'
import { useRoomKeys } from './use-room-keys'
import { useRoomTone } from './use-room-tone'
import { useSplit } from './use-split'

/// Record the script paragraph by paragraph; find its words; bring the pictures to them.
export function NarrationRoom() {
  const project = useProject()
  const shown = useShown()
  const place = usePlace()
  const { breakdown, readings } = shown
  const [takes, setTakes] = useState<readonly Take[]>([])
  const [told, setTold] = useState<string | null>(null)
  const [chosen, setChosen] = useState<string | null>(null)
  const [pace, setPace] = useState<string>(FIRST_PACE)
  /// The picture lies under the hands while the take is recorded.
  const [talking, setTalking] = useState(false)
  const talk = useRef<TalkPicture>(null)
  const paragraphs = (breakdown?.script ?? []).flatMap((row) => ('chapter' in row || row.text.length === 0 ? [] : [row]))
  const index = Math.max(
    0,
    paragraphs.findIndex(({ id }) => id === place.paragraph),
  )
  const paragraph = paragraphs[index]
  const read = async (): Promise<void> => {
    const answer = await engine.call('takes.list', {})
    if (answer.ok) setTakes(answer.value.takes)
  }
  useEffect(() => void read(), [shown.takes])
  const choose = async (
    take: Pick<Take, 'id' | 'file' | 'words'>,
    talked: readonly Shot[] | null = null,
    taps: readonly number[] = [],
  ): Promise<void> => {
    if (!paragraph || take.file === null) return
    setTold('finding the words …')
    const found = await engine.call('takes.words', { take: take.id, paragraph: paragraph.id })
    if (talked) await project.edit(chooseTalkOver(paragraph, take.file, found.ok ? found.value : unheard(take.words), readings, talked))
    if (!found.ok) return setTold(found.error.message)
    setTold(foundWords(found.value))
    if (!talked) await project.edit(chooseTakes([{ paragraph, file: take.file, found: found.value, taps }], readings))
  }
  const [player] = useState(() => new TakePlayer())
  const inFilm = paragraph?.take ?? null
  useEffect(() => {
    player.open(inFilm)
    return () => player.stop()
  }, [player, inFilm])
  useEffect(() => {
    if (recording.state !== 'idle') player.stop()
  })
  const { sheet, takeApart } = useSplit(paragraphs, readings, setTold)
  const soundFile = useRef<HTMLInputElement>(null)
  const [asked, setAsked] = useState(0)
  const microphones = useMicrophones(asked)
  /// When the key that stands for a cue's word was tapped in this recording, seconds of it.
  const [tapped, setTapped] = useState<readonly number[]>([])
  /// The last sentence before this paragraph is heard before it is recorded, where it has been recorded.
  const [leads, setLeads] = useState(true)
  const previous = paragraphs[index - 1]
  const previousLength = previous?.take === undefined ? undefined : shown.takes.get(previous.take)
  const lead =
    previous?.take !== undefined && previousLength
      ? { take: previous.take, stretch: lastSentence(previous, readings, toNumber(previousLength)) }
      : null
  const recording = useRecording(
    paragraph?.id ?? null,
    microphones.chosen,
    (take) => {
      void read()
      void choose(take, talk.current?.end(take.samples) ?? null, tapped)
    },
    leads && lead ? (signal) => leadIn(lead.take, lead.stretch, signal) : null,
  )
  const [toneRemark, setToneRemark] = useState<string | null>(null)
  const tone = useRoomTone(microphones.chosen, (take, remark) => {
    setToneRemark(remark)
    void read()
    if (take.file !== null) void project.edit(chooseRoomTone(take.file))
  })
  const notRecording = recording.state === 'idle'
  const idle = notRecording && tone.state === 'idle'
  useEffect(() => {
    if (recording.state === 'counting') setTapped([])
    if (recording.state === 'idle') setAsked((before) => before + 1)
  }, [recording.state])
  const goBy = (by: number): void => goTo({ paragraph: paragraphs[Math.max(0, Math.min(paragraphs.length - 1, index + by))]?.id ?? null })
  useRoomKeys({
    r: tone.state === 'idle' && recording.toggle,
    q: notRecording && !shown.readOnly && tone.toggle,
    c:
      recording.state === 'recording' &&
      !talking &&
      ((event) => {
        if (event.repeat) return
        const samples = recording.samples(event.timeStamp)
        if (samples !== null) setTapped([...tapped, samples / RATE])
      }),
    p: idle && lead && !talking && (() => setLeads(!leads)),
    i: idle && (() => soundFile.current?.click()),
    t: idle && (() => setTalking(!talking)),
    arrowdown: notRecording && (() => goBy(1)),
    arrowup: notRecording && (() => goBy(-1)),
  })
  if (!breakdown || !paragraph)
    return (
      <div className="bench-empty">
        <h2>There are no words to record</h2>
        <p>Write a paragraph in the Script room.</p>
      </div>
    )
  const rate = ownRate(breakdown.script, readings)
  const expected = expectedSound(paragraph, readings, rate)
  const before =
    index > 0
      ? spokenText(paragraphs[index - 1]!, readings)
          .split(/(?<=[.!?])\s/)
          .at(-1)
      : null
  const length = paragraph.take === undefined ? null : (shown.takes.get(paragraph.take) ?? null)
  const times = (breakdown.cueTimes ?? []).filter((time) => time.paragraph === paragraph.id)
  const cues = paragraph.text.flatMap((piece) => (typeof piece === 'string' || !('cue' in piece) ? [] : [piece]))
  const untimed = paragraph.take === undefined ? [] : cues.map(({ cue }) => cue).filter((cue) => !times.some(({ event }) => event === cue))
  const unsure = times.find((time) => time.u > CONFIRM_ABOVE)
  const solving = { breakdown, paragraph, readings, take: length, tables: shown.tables, pace }
  const solved = solvedShots(solving)
  const stale =
    paragraph.narration?.words && paragraph.take !== undefined ? staleWords(heardWords(paragraph.narration), paragraph, readings) : null
  const play = (from: number): void => player.play(Math.max(0, from - 0.4), from + 0.8)
  return (
    <div className={talking ? 'narration talking' : 'narration'}>
      <section className="prompt" aria-label="What to say">
        {before && <p className="before">… {before}</p>}
        <SpokenWords paragraph={paragraph} readings={readings} take={length === null ? null : toNumber(length)} player={player} />
        {talking && <TalkOver key={paragraph.id} paragraph={paragraph} recording={recording} talk={talk} />}
        <PromptSteps
          recording={recording}
          toning={tone.state !== 'idle'}
          readOnly={shown.readOnly}
          index={index}
          paragraphs={paragraphs.length}
          onStep={goBy}
          talking={breakdown.clips.length > 0 ? talking : null}
          onTalking={setTalking}
          leads={lead ? leads : null}
          onLeads={setLeads}
          tapAt={recording.state === 'recording' && !talking ? (cues[tapped.length]?.word ?? null) : null}
        />
        {recording.problem && (
          <p className="refusal" role="alert">
            {recording.problem}
          </p>
        )}
      </section>
      <aside className="narration-side" aria-label="Takes and cues">
        <RecordingFigures recording={recording} expected={expected} own={rate} />
        <MicrophoneChoice microphones={microphones} disabled={!notRecording} />
        {told && <p role="status">{told}</p>}
        {stale && (
          <p className="refusal">
            The take says {quoted(stale.said)}; the script now says {quoted(stale.now)}. Record it again.
          </p>
        )}
        <div role="group" aria-label="Takes">
          <TakeList
            takes={takes}
            paragraph={paragraph}
            readings={readings}
            readOnly={shown.readOnly}
            idle={notRecording}
            onFinish={(take) => void engine.call('takes.finish', { take: take.id }).then(read)}
            onUse={(take) => void choose(take)}
            onTakeApart={(take) => void takeApart(take)}
          />
          <BringSound
            paragraph={paragraph.id}
            disabled={shown.readOnly || !idle}
            tell={setTold}
            input={soundFile}
            onTake={(take) => void read().then(() => (take.kind === 'script' ? takeApart(take) : choose(take)))}
          />
        </div>
        <RoomToneBox
          tone={tone}
          tones={takes.filter(({ kind, state }) => kind === 'room' && state === 'finished')}
          chosen={breakdown.sound?.roomTone}
          remark={toneRemark}
          readOnly={shown.readOnly}
          busy={!notRecording}
          onChoose={(file) => void project.edit(chooseRoomTone(file))}
        />
        <CueList
          times={times}
          untimed={untimed}
          events={breakdown.events ?? []}
          chosen={chosen}
          onChoose={setChosen}
          onHear={play}
          onConfirm={(time) => void project.edit(placeCue(paragraph.id, time.event, time.seconds))}
        />
        {solved && (
          <BringPicturesBox
            solved={solved}
            pace={pace}
            onPace={setPace}
            unsure={unsure !== undefined}
            readOnly={shown.readOnly}
            onBring={() => void project.edit(bringPictures(solving))}
          />
        )}
      </aside>
      <section className="wave-lane" aria-label="The take in the film">
        {paragraph.take !== undefined && length ? (
          <TakeLane
            paragraph={paragraph}
            take={paragraph.take}
            seconds={toNumber(length)}
            cueTimes={times}
            chosen={chosen}
            player={player}
            readOnly={shown.readOnly}
            keys={idle && !talking}
            onPlace={(seconds) => chosen !== null && void project.edit(placeCue(paragraph.id, chosen, seconds))}
            onTap={(seconds, playing) => {
              const event = chosen ?? cues[0]?.cue
              if (event === undefined) return
              void project.edit(placeCue(paragraph.id, event, seconds, playing ? TAPPED_U : undefined))
              setChosen(cues[cues.findIndex(({ cue }) => cue === event) + 1]?.cue ?? null)
            }}
            onTrim={(ends, byKey) => project.edit(trimTake(solving, ends, toNumber(length)), byKey ? `trim ${paragraph.id}` : null)}
          />
        ) : (
          <p className="quiet">No take of this paragraph is in the film yet.</p>
        )}
      </section>
      {sheet}
    </div>
  )
}
