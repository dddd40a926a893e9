import { useEffect, useState, type ReactNode } from 'react'
import type { UndoStep } from '../../app/contract/edit-calls'
import type { MenuCommand } from '../../app/contract/menu-commands'
import { Bench } from '../bench/bench'
import { EvidenceRoom } from '../evidence/evidence-room'
import { Footage } from '../footage/footage-room'
import { NarrationRoom } from '../narration/narration-room'
import { ReleaseRoom } from '../release/release-room'
import { ScriptRoom } from '../script/script-room'
import { holdCommand, inField, takeHeld, useMenu } from '../state/desktop-bridge'
import { editPlaceWords, goTo, roomNames, usePlace, type RoomName } from '../state/place'
import type { Project } from '../state/project'
import { ProjectContext, useProject, usePart } from '../state/use-project'
import { KeysSheet } from './keys-sheet'
import { ProjectSheet } from './project-sheet'
import { StartScreen } from './start-screen'

const rooms: Readonly<Record<RoomName, () => ReactNode>> = {
  Script: ScriptRoom,
  Footage,
  Bench,
  Narration: NarrationRoom,
  Evidence: EvidenceRoom,
  Release: ReleaseRoom,
}

export function App({ project }: { readonly project: Project }) {
  return (
    <ProjectContext value={project}>
      <Window />
    </ProjectContext>
  )
}

function Window() {
  const phase = usePart('phase')
  const file = usePart('file')
  if (phase === 'starting')
    return (
      <p className="quiet centred" role="status">
        Opening …
      </p>
    )
  if (phase !== 'open') return <StartScreen />
  return <Rooms key={file} />
}

type Sheet = 'none' | 'keys' | 'project'

function Rooms() {
  const project = useProject()
  const { room } = usePlace()
  const [sheet, setSheet] = useState<Sheet>('none')
  const Shown = rooms[room]
  useEffect(() => {
    const onKey = (event: KeyboardEvent): void => {
      const command = event.ctrlKey || event.metaKey
      const to = event.altKey && !command && /^Digit[1-9]$/.test(event.code) ? roomNames[Number(event.code.slice(5)) - 1] : undefined
      // What is typed into a field and not yet set is the field's own to take back.
      const own = !inField(event.target)
      if (command && !event.altKey && own && event.key.toLowerCase() === 'z') void project.undo(event.shiftKey ? 'redo' : 'undo')
      else if (command && !event.altKey && own && event.key.toLowerCase() === 'y') void project.undo('redo')
      else if (event.key === 'F1') setSheet('keys')
      else if (to) goTo({ room: to })
      else return
      event.preventDefault()
    }
    // Before whatever has the focus, and may keep its keys to itself: a list, or the layer that is drawn on.
    window.addEventListener('keydown', onKey, { capture: true })
    return () => window.removeEventListener('keydown', onKey, { capture: true })
  }, [project])
  useEffect(() => {
    const onLeave = (event: BeforeUnloadEvent): void => {
      if (project.leaving()) event.preventDefault()
    }
    window.addEventListener('beforeunload', onLeave)
    return () => window.removeEventListener('beforeunload', onLeave)
  }, [project])
  const takeBack = (kind: 'undo' | 'redo') => (): void => {
    if (inField(document.activeElement)) document.execCommand(kind)
    else void project.undo(kind)
  }
  useMenu({
    'new-project': () => void leave('new-project'),
    'open-project': () => void leave('open-project'),
    'save-copy': () => setSheet('project'),
    'add-films': () => {
      if (room !== 'Footage') holdCommand('add-films')
      goTo({ room: 'Footage' })
    },
    render: () => goTo({ room: 'Release' }),
    undo: takeBack('undo'),
    redo: takeBack('redo'),
    find: () => {
      if (room !== 'Script') holdCommand('find')
      goTo({ room: 'Script' })
    },
    'keyboard-map': () => setSheet('keys'),
  })
  const leave = async (to: MenuCommand): Promise<void> => {
    holdCommand(to)
    const refusal = await project.close()
    if (!refusal) return
    takeHeld(to)
    project.refuse(refusal)
  }
  return (
    <div className={room === 'Bench' || room === 'Narration' ? 'window dark' : 'window'}>
      <nav className="rail" aria-label="Rooms">
        {roomNames.map((name, i) => (
          <button
            key={name}
            type="button"
            className="room"
            aria-current={name === room ? 'page' : undefined}
            title={`Alt+${i + 1}`}
            onClick={() => goTo({ room: name })}
          >
            {name}
          </button>
        ))}
        <RailFoot onKeys={() => setSheet('keys')} />
      </nav>
      <Top room={room} onProject={() => setSheet('project')} />
      <main className="room-body" key={room}>
        <Refused />
        <Shown />
      </main>
      {sheet === 'keys' && <KeysSheet onClose={() => setSheet('none')} />}
      {sheet === 'project' && <ProjectSheet onClose={() => setSheet('none')} />}
    </div>
  )
}

function RailFoot({ onKeys }: { readonly onKeys: () => void }) {
  const project = useProject()
  const next = usePart('next')
  return (
    <div className="rail-foot">
      {next.undo && <UndoButton word="Undo" keys="Ctrl+Z" step={next.undo} onPress={() => void project.undo('undo')} />}
      {next.redo && <UndoButton word="Redo" keys="Ctrl+Shift+Z, Ctrl+Y" step={next.redo} onPress={() => void project.undo('redo')} />}
      <button type="button" className="undo" title="F1" onClick={onKeys}>
        <span>Keys</span>
      </button>
    </div>
  )
}

/// Says what it takes back or does again, and where; it goes there first.
function UndoButton({
  word,
  keys,
  step,
  onPress,
}: {
  readonly word: string
  readonly keys: string
  readonly step: UndoStep
  readonly onPress: () => void
}) {
  const where = editPlaceWords(step.place, usePart('breakdown'))
  return (
    <button type="button" className="undo" title={`${where}: ${keys}`} onClick={onPress}>
      <span>{word}</span>
      <strong>{step.label}</strong>
      <span aria-hidden="true">{where}</span>
    </button>
  )
}

function Top({ room, onProject }: { readonly room: RoomName; readonly onProject: () => void }) {
  const breakdown = usePart('breakdown')
  const saving = usePart('saving')
  const readOnly = usePart('readOnly')
  const kept = usePart('kept')
  const state = readOnly ? 'read only' : saving ? 'saving …' : kept.length > 0 ? 'not all kept: the words stand in Script' : 'all saved'
  return (
    <header className="top">
      <h1>
        <button type="button" className="title" onClick={onProject} title="where it lies, copies, another project">
          {breakdown?.title}
        </button>
      </h1>
      <span className="quiet" role="status">
        {state}
      </span>
      {room !== 'Release' && (
        <button type="button" className="main-action" onClick={() => goTo({ room: 'Release' })}>
          Render
        </button>
      )}
    </header>
  )
}

function Refused() {
  const project = useProject()
  const refusal = usePart('refusal')
  if (!refusal) return null
  return (
    <p className="refusal" role="alert">
      {refusal.message}
      <button type="button" onClick={() => project.dismiss()}>
        Understood
      </button>
    </p>
  )
}
