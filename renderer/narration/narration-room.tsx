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
import { BringSound } from './bring-sound'
import { CueList } from './cue-list'
import { leadIn } from './lead-in'
import { RoomToneBox } from './room-tone-box'
import { SpokenWords } from './spoken-words'
import { bringPictures, chooseRoomTone, chooseTakes, chooseTalkOver, placeCue, solvedShots, trimTake, unheard } from './take-edits'
import { TakeLane } from './take-lane'
import { quoted, TakeList } from './take-list'
import { TakePlayer } from './take-player'
import { TalkOver } from './talk-over'
import type { TalkPicture } from './talk-picture'
import { RATE } from './recorder'
import { useMicrophones } from './use-microphones'
import { useRecording } from './use-recording'
import { useRoomTone } from './use-room-tone'
import { useSplit } from './use-split'

const PACES = ['1/8', '1/4', '1/2', '1'] as const

/// Record the script paragraph by paragraph; find its words; bring the pictures to them.
export function NarrationRoom() {
  const project = useProject()
  const shown = useShown()
  const place = usePlace()
  const { breakdown, readings } = shown
  const [takes, setTakes] = useState<readonly Take[]>([])
  const [told, setTold] = useState<string | null>(null)
  const [chosen, setChosen] = useState<string | null>(null)
  const [pace, setPace] = useState<string>('1/4')
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
    const { leftOut, repeated, other, by } = found.value
    const placed = found.value.words.some(({ onset }) => onset !== null)
    const parts = [
      ...(placed ? [] : ['no word could be found by the program here; choose a cue and press the wave where its word begins']),
      ...leftOut.map((words) => `“${words}” was not heard`),
      ...repeated.map(({ words, again }) => `“${words}” was said twice; the copy at ${again.toFixed(1)} s counts`),
      ...(other ? ['something else than the script was said'] : []),
      ...(by === 'reference' && placed ? ['no recogniser is installed: the words are less exact'] : []),
    ]
    setTold(parts.length > 0 ? parts.join('; ') : 'every word was found')
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
  const idle = recording.state === 'idle' && tone.state === 'idle'
  useEffect(() => {
    if (recording.state === 'counting') setTapped([])
    if (recording.state === 'idle') setAsked((before) => before + 1)
  }, [recording.state])
  useEffect(() => {
    const onKey = (event: KeyboardEvent): void => {
      if (
        event.ctrlKey ||
        event.metaKey ||
        event.altKey ||
        event.target instanceof HTMLInputElement ||
        event.target instanceof HTMLSelectElement
      )
        return
      if (event.key.toLowerCase() === 'r' && tone.state === 'idle') recording.toggle()
      else if (event.key.toLowerCase() === 'q' && recording.state === 'idle' && !shown.readOnly) tone.toggle()
      else if (event.key.toLowerCase() === 'c' && recording.state === 'recording' && !talking && !event.repeat) {
        const samples = recording.samples(event.timeStamp)
        if (samples !== null) setTapped([...tapped, samples / RATE])
      } else if (event.key.toLowerCase() === 'p' && idle && lead && !talking) setLeads(!leads)
      else if (event.key.toLowerCase() === 'i' && idle) soundFile.current?.click()
      else if (event.key.toLowerCase() === 't' && idle) setTalking(!talking)
      else if (event.key === 'ArrowDown' && recording.state === 'idle')
        goTo({ paragraph: paragraphs[Math.min(paragraphs.length - 1, index + 1)]?.id ?? null })
      else if (event.key === 'ArrowUp' && recording.state === 'idle') goTo({ paragraph: paragraphs[Math.max(0, index - 1)]?.id ?? null })
      else return
      event.preventDefault()
    }
    window.addEventListener('keydown', onKey)
    return () => window.removeEventListener('keydown', onKey)
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
  const untimed =
    paragraph.take === undefined
      ? []
      : paragraph.text.flatMap((piece) =>
          typeof piece === 'string' || !('cue' in piece) || times.some(({ event }) => event === piece.cue) ? [] : [piece.cue],
        )
  const cues = paragraph.text.flatMap((piece) => (typeof piece === 'string' || !('cue' in piece) ? [] : [piece]))
  const unsure = times.find((time) => time.u > CONFIRM_ABOVE)
  const solving = { breakdown, paragraph, readings, take: length, tables: shown.tables, pace }
  const solved = solvedShots(solving)
  const stale =
    paragraph.narration?.words && paragraph.take !== undefined ? staleWords(heardWords(paragraph.narration), paragraph, readings) : null
  const { meter } = recording
  const play = (from: number): void => player.play(Math.max(0, from - 0.4), from + 0.8)
  return (
    <div className={talking ? 'narration talking' : 'narration'}>
      <section className="prompt" aria-label="What to say">
        {before && <p className="before">… {before}</p>}
        <SpokenWords paragraph={paragraph} readings={readings} take={length === null ? null : toNumber(length)} player={player} />
        {talking && <TalkOver key={paragraph.id} paragraph={paragraph} recording={recording} talk={talk} />}
        <div className="prompt-steps">
          <button
            type="button"
            title="R"
            className="main-action"
            disabled={shown.readOnly || recording.state === 'ending' || tone.state !== 'idle'}
            onClick={recording.toggle}
          >
            {recording.state === 'idle'
              ? 'Record'
              : recording.state === 'counting'
                ? recording.count > 0
                  ? `in ${recording.count} …`
                  : 'listen …'
                : 'Stop'}
          </button>
          <button
            type="button"
            title="up"
            disabled={index === 0 || recording.state !== 'idle'}
            onClick={() => goTo({ paragraph: paragraphs[index - 1]!.id })}
          >
            Before
          </button>
          <button
            type="button"
            title="down"
            disabled={index + 1 >= paragraphs.length || recording.state !== 'idle'}
            onClick={() => goTo({ paragraph: paragraphs[index + 1]!.id })}
          >
            Next
          </button>
          {breakdown.clips.length > 0 && (
            <button
              type="button"
              title="T"
              aria-pressed={talking}
              disabled={recording.state !== 'idle'}
              onClick={() => setTalking(!talking)}
            >
              Talk over the picture
            </button>
          )}
          {lead && (
            <button type="button" title="P" aria-pressed={leads} disabled={!idle} onClick={() => setLeads(!leads)}>
              Hear the sentence before
            </button>
          )}
          {recording.state === 'recording' && !talking && cues[tapped.length] && (
            <span className="quiet">C as you say “{cues[tapped.length]!.word}”</span>
          )}
          <span className="quiet">
            paragraph {index + 1} of {paragraphs.length}
          </span>
        </div>
        {recording.problem && (
          <p className="refusal" role="alert">
            {recording.problem}
          </p>
        )}
      </section>
      <aside className="narration-side" aria-label="Takes and cues">
        <dl>
          <dt>{recording.state === 'recording' ? 'recording' : 'last recording'}</dt>
          <dd>{meter ? `${meter.seconds.toFixed(1)} s` : '–'}</dd>
          <dt>level</dt>
          <dd>{meter ? `${meter.peak.toFixed(0)} dB peak${meter.most >= -1 ? ', too loud' : ''}` : '–'}</dd>
          <dt>room</dt>
          <dd>{meter ? `${meter.floor.toFixed(0)} dB${meter.floor <= -60 ? ', quiet enough' : ', not quiet'}` : '–'}</dd>
          <dt>should take</dt>
          <dd>
            {expected.seconds.toFixed(1)} ± {expected.U.toFixed(1)} s
          </dd>
          <dt>reckoned from</dt>
          <dd>
            {rate.takes === 0 ? 'a usual pace' : `your ${rate.takes} paragraphs, ${rate.rate.syllablesPerSecond.toFixed(1)} syllables/s`}
          </dd>
        </dl>
        {microphones.known.length > 0 && (
          <label className="microphone">
            microphone{' '}
            <select
              value={microphones.chosen ?? ''}
              disabled={recording.state !== 'idle'}
              onChange={(event) => microphones.choose(event.target.value === '' ? null : event.target.value)}
            >
              <option value="">the system’s choice</option>
              {microphones.known.map(({ id, label }) => (
                <option key={id} value={id}>
                  {label || 'a microphone'}
                </option>
              ))}
            </select>
          </label>
        )}
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
            idle={recording.state === 'idle'}
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
          busy={recording.state !== 'idle'}
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
          <div aria-label="Pictures">
            <label>
              pace{' '}
              <select value={pace} onChange={(event) => setPace(event.target.value)}>
                {PACES.map((each) => (
                  <option key={each}>{each}</option>
                ))}
              </select>
            </label>{' '}
            <button
              type="button"
              disabled={shown.readOnly || unsure !== undefined}
              onClick={() => void project.edit(bringPictures(solving))}
            >
              Bring the pictures to the words
            </button>
            {unsure && <p className="quiet">Some words are not sure yet: hear and confirm them first.</p>}
            {solved.conflicts.map((conflict, i) => (
              <p key={i}>
                {conflict.problem}. Ways out: {conflict.ways.join('; ')}.
              </p>
            ))}
          </div>
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
            onTrim={(ends, byKey) => void project.edit(trimTake(solving, ends, toNumber(length)), byKey ? `trim ${paragraph.id}` : null)}
          />
        ) : (
          <p className="quiet">No take of this paragraph is in the film yet.</p>
        )}
      </section>
      {sheet}
    </div>
  )
}
