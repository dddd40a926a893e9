import type { KeyboardEvent } from 'react'
import { placingOrder } from '../../app/body/body-points'
import { sayPoint } from '../../app/body/landmark-name'
import { blurOf } from '../../app/measure/located'
import { usePlace } from '../state/place'
import { BenchCanvas } from './bench-canvas'
import { doCommand } from './bench-commands'
import type { BenchHand } from './bench-hand'
import { BenchHud } from './bench-hud'
import { commandOf, type Command } from './bench-keys'
import { BenchSheet } from './bench-sheet'
import { HandTools, SheetTools } from './bench-tools'
import { BesideWords } from './beside-words'
import { storedPoints } from './clip-now'
import { EdgeReadings } from './edge-readings'
import { GuideCard } from './guide-card'
import { anotherPerson, renamePerson } from './person-edits'
import { blurPoint, removePlacing, removePoint } from './point-edits'
import { smearLength } from './smear'
import { SHEET } from './stage-view'
import { TimeStrip } from './time-strip'
import { useOpenClip, type BenchNow, type OpenedClip } from './use-open-clip'
import { useStagePresses } from './use-stage-presses'
import { useStageScene } from './use-stage-scene'

/// A stage narrower than this has no room for readings beside a sheet.
const ROOM_FOR_BOTH = 1100

/// One clip open on the Bench.
export function OpenClip(opened: OpenedClip) {
  const { paragraph } = usePlace()
  const now = useOpenClip(opened)
  const { clip, frame, sheet, stage, little, lead, placing, held, following, beside, said } = now
  const { scene, other, places, onTall } = useStageScene(now)
  const { giveUp, ...presses } = useStagePresses(now, scene)
  const words = following.done === null ? said : `Following: ${following.done} frames looked at. Esc leaves off; nothing is kept then.`
  const toStage = (): void => now.ref.current?.focus()
  const runCommand = (command: Command): void => doCommand(now, command, { paragraph, giveUp })
  const onKey = (event: KeyboardEvent<HTMLDivElement>): void => {
    const at = event.target
    const types = at instanceof HTMLInputElement || at instanceof HTMLSelectElement || at instanceof HTMLTextAreaElement
    if (event.ctrlKey || event.metaKey || types) {
      if (event.key === 'Escape') toStage()
      return
    }
    if (at instanceof HTMLButtonElement && (event.key === ' ' || event.key === 'Enter')) return
    const command = commandOf(event, placing.active ? 'places' : held.led !== null ? 'leads' : 'free')
    if (!command) return
    event.preventDefault()
    runCommand(command)
  }
  return (
    <div className={little ? 'bench little' : 'bench'} onKeyDown={onKey}>
      <div className="stage-place">
        <div
          ref={now.ref}
          className={placing.active ? 'stage placing' : 'stage'}
          role="application"
          tabIndex={0}
          aria-label={`${clip.name ?? clip.id}, frame ${frame}. Keys: question mark.`}
          {...presses}
        >
          <BenchCanvas ref={now.canvas} scene={scene} beside={other} onDetail={now.setDetail} />
        </div>
        <div className="stage-head">
          <BenchHud clip={clip} table={now.table} frame={frame} events={now.events} scale={now.view.scale} />
          <SheetTools isRunning={now.speed !== 0} sheet={sheet} onCommand={runCommand} />
        </div>
        {beside.lock && <BesideWords lock={beside.lock} frame={beside.there} by={beside.by} onLockOn={beside.lockOn} />}
        {!beside.lock && (!sheet || (!little && stage.width > ROOM_FOR_BOTH)) && places.length > 0 && (
          <EdgeReadings places={places} chosen={now.chosen} inset={sheet ? SHEET : 0} onChoose={now.choose} onTall={onTall} />
        )}
        <div className={sheet ? 'stage-foot beside-sheet' : 'stage-foot'}>
          <Guide now={now} onToStage={toStage} />
          {words && (
            <p className="said-here" role="status">
              {words}
            </p>
          )}
        </div>
        {sheet && (
          <Sheet
            now={now}
            onCommand={runCommand}
            onClose={() => {
              now.setSheet(null)
              toStage()
            }}
          />
        )}
      </div>
      <HandTools
        placing={placing.active !== null}
        seen={placing.active?.seen ?? 'seen'}
        inHand={now.inHand && sayPoint(now.inHand, lead)}
        leads={held.led !== null}
        mayPlace={now.placesFor !== null}
        isLast={frame + 1 >= clip.to}
        hasPoints={now.points.length > 0}
        hasSuggested={now.points.some(({ origin }) => origin === 'suggested') || now.marked !== null}
        isBeside={beside.lock !== null}
        loop={now.loop.state}
        onCommand={(command) => {
          runCommand(command)
          toStage()
        }}
      />
      <TimeStrip
        clip={clip}
        frame={frame}
        events={now.events}
        measure={now.chosenMeasure}
        reading={now.chosen ? now.readings.get(now.chosen) : undefined}
        context={now.measures}
        over={now.over}
        onOver={now.setOver}
        onFrame={now.goByHand}
        onIntoFilm={now.readOnly ? null : () => runCommand({ do: 'into-film' })}
      />
    </div>
  )
}

/// What a blurred point is taken to be blurred by while nobody has said, px.
const assumedBlur = ({ clip, subject, measures }: BenchNow): number =>
  blurOf([{ seen: 'blurred' }], subject && measures ? measures.figureHeight(clip.id, subject) : null)

function Guide({ now, onToStage }: { readonly now: BenchNow; readonly onToStage: () => void }) {
  const { project, placing, held, frame, lead, subject, setSubject, smear } = now
  return (
    <GuideCard
      guide={placing.guide}
      led={held.led}
      frame={frame}
      lead={lead}
      whole={now.detail === 'full'}
      subjects={now.breakdown?.subjects ?? []}
      subject={subject}
      readOnly={now.readOnly}
      onSubject={setSubject}
      onGo={now.goByHand}
      assumedBlur={assumedBlur(now)}
      drawnBlur={smear.smear && smearLength(smear.smear)}
      blurField={now.blurField}
      onBlur={async (length) => placing.blur(length)}
      onToStage={onToStage}
      onNewSubject={(name) =>
        void project.edit((state) => {
          const { id, change } = anotherPerson(state, name)
          setSubject(id)
          return change
        })
      }
      onRename={(name) => void project.edit((state) => (subject ? renamePerson(state, subject, name) : null))}
      onBegin={(group) => now.begin(placingOrder(group, lead))}
    />
  )
}

interface SheetProps {
  readonly now: BenchNow
  readonly onCommand: (command: Command) => void
  readonly onClose: () => void
}

function Sheet({ now, onCommand, onClose }: SheetProps) {
  const { project, clip, subject, frame, lead } = now
  if (!now.sheet) return null
  const on = subject === null ? null : { clip: clip.id, subject, frame }
  const hand: BenchHand = {
    clip,
    subject,
    frame,
    lead,
    assumedBlur: assumedBlur(now),
    chosen: now.chosen,
    blind: now.blind,
    setBlind: now.setBlind,
    choose: now.choose,
    go: now.goByHand,
    place: now.begin,
    followHall: () => onCommand({ do: 'hall' }),
    placed: (measure) => storedPoints(measure.points, lead),
    suggested: now.marked,
  }
  return (
    <BenchSheet
      name={now.sheet}
      hand={hand}
      light={now.light}
      onLight={now.setLight}
      onClose={onClose}
      onIntoScript={() => onCommand({ do: 'into-script' })}
      onBlurred={(point, blur) => project.edit((state) => on && blurPoint(state, project.shown().breakdown, on, point, blur, lead))}
      onRemovePlacing={(point, i) =>
        void project.edit((state) => on && removePlacing(state, project.shown().breakdown, on, point, i, lead))
      }
      onRemovePoint={(point) => void project.edit((state) => on && removePoint(state, project.shown().breakdown, on, point, lead))}
    />
  )
}
