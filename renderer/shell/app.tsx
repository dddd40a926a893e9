import { useEffect, type ReactNode } from 'react'
import { Bench } from '../bench/bench'
import { EvidenceRoom } from '../evidence/evidence-room'
import { Footage } from '../footage/footage-room'
import { ReleaseRoom } from '../release/release-room'
import { ScriptRoom } from '../script/script-room'
import { goTo, roomNames, usePlace, type RoomName } from '../state/place'
import type { Project } from '../state/project'
import { ProjectContext, useProject, useShown } from '../state/use-project'
import { StartScreen } from './start-screen'

const rooms: Readonly<Record<RoomName, () => ReactNode>> = { Script: ScriptRoom, Footage, Bench, Evidence: EvidenceRoom, Release: ReleaseRoom }

export function App({ project }: { readonly project: Project }) {
  return (
    <ProjectContext value={project}>
      <Window />
    </ProjectContext>
  )
}

function Window() {
  const shown = useShown()
  if (shown.phase === 'starting') return <p className="quiet centred" role="status">Opening …</p>
  if (shown.phase !== 'open') return <StartScreen />
  return <Rooms />
}

function Rooms() {
  const project = useProject()
  const { breakdown, saving, next, refusal, readOnly } = useShown()
  const { room } = usePlace()
  const Shown = rooms[room]
  useEffect(() => {
    const onKey = (event: KeyboardEvent): void => {
      if (!(event.ctrlKey || event.metaKey) || event.altKey) return
      if (event.key.toLowerCase() === 'z') {
        event.preventDefault()
        void project.undo(event.shiftKey ? 'redo' : 'undo')
      }
    }
    window.addEventListener('keydown', onKey)
    return () => window.removeEventListener('keydown', onKey)
  }, [project])
  return (
    <div className={room === 'Bench' ? 'window dark' : 'window'}>
      <nav className="rail" aria-label="Rooms">
        {roomNames.map((name) => (
          <button key={name} type="button" className="room" aria-current={name === room ? 'page' : undefined} onClick={() => goTo({ room: name })}>
            {name}
          </button>
        ))}
        <div className="rail-foot">
          {next.undo && (
            <button type="button" className="undo" title="Ctrl+Z" onClick={() => void project.undo('undo')}>
              <span>Undo</span>
              <strong>{next.undo.label}</strong>
            </button>
          )}
          {next.redo && (
            <button type="button" className="undo" title="Ctrl+Shift+Z" onClick={() => void project.undo('redo')}>
              <span>Redo</span>
              <strong>{next.redo.label}</strong>
            </button>
          )}
        </div>
      </nav>
      <header className="top">
        <h1>{breakdown?.title}</h1>
        <span className="quiet" role="status">{readOnly ? 'read only' : saving ? 'saving …' : 'all saved'}</span>
        {room !== 'Release' && (
          <button type="button" className="main-action" onClick={() => goTo({ room: 'Release' })}>
            Render
          </button>
        )}
      </header>
      <main className="room-body" key={room}>
        {refusal && (
          <p className="refusal" role="alert">
            {refusal.message}
            <button type="button" onClick={() => project.dismiss()}>
              Understood
            </button>
          </p>
        )}
        <Shown />
      </main>
    </div>
  )
}
