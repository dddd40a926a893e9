import { settingsOf } from '../../app/edit/project-state'
import type { Settings } from '../../app/edit/records'
import { Fields, Select, TextField } from '../sheets/fields'
import { updating } from '../state/record-change'
import { useProject, usePart } from '../state/use-project'

const SIZES = ['1920x1080', '1280x720', '3840x2160', '1080x1920', '1080x1080'] as const
const RATES = ['24/1', '25/1', '30000/1001', '30/1', '50/1', '60000/1001', '60/1'] as const

/// What the film is called, what it asks, and how it comes out. Each change is one edit.
export function FilmFields() {
  const project = useProject()
  const state = usePart('state')
  if (!state) return null
  const settings = settingsOf(state)
  const { output, sound } = settings
  /// Done to what stands when its turn comes: what was chosen just before may be on its way still.
  const change = (label: string, to: (before: Settings) => Partial<Settings>): Promise<unknown> =>
    project.edit((now) => {
      const before = settingsOf(now)
      return { label, steps: [], diffs: [updating('settings', before, { ...before, ...to(before) })] }
    })
  const size = `${output.width}x${output.height}`
  const shape = (before: Settings['output'], text: string): Settings['output'] => {
    const [width = before.width, height = before.height] = text.split('x').map(Number)
    return { ...before, width, height }
  }
  return (
    <>
      <Fields label="The film">
        <TextField
          label="Title"
          value={settings.title}
          size={48}
          judge={(text) => (text === '' || text.length > 2000 ? 'a title of one line' : null)}
          onSet={(title) => change('Change the title', () => ({ title }))}
        />
        <TextField
          label="The question it answers"
          value={settings.question ?? ''}
          size={48}
          onSet={(question) => change('Change the question', () => ({ question: question === '' ? undefined : question }))}
        />
      </Fields>
      <Fields label="Picture and sound">
        <Select
          label="Picture"
          value={size}
          options={offered(SIZES, size).map((each) => [each, each.replace('x', ' × ')])}
          onSet={(text) => change('Change the picture’s size', (before) => ({ output: shape(before.output, text) }))}
        />
        <Select
          label="Frames a second"
          value={output.rate}
          options={offered(RATES, output.rate).map((each) => [each, rateWords(each)])}
          onSet={(rate) => change('Change the frames a second', (before) => ({ output: { ...before.output, rate } }))}
        />
        <Select
          label="Loudness"
          value={sound?.loudness ?? '-14'}
          options={[
            ['-14', '−14 LUFS, for the web'],
            ['-23', '−23 LUFS, for broadcast'],
          ]}
          onSet={(loudness) => change('Change the loudness', (before) => ({ sound: { ...before.sound, loudness } }))}
        />
        <Select
          label="Sound of the fight"
          value={sound?.hall ?? 'muted'}
          options={[
            ['muted', 'not heard'],
            ['under', 'under the voice'],
          ]}
          onSet={(hall) => change('Change the sound of the fight', (before) => ({ sound: { ...before.sound, hall } }))}
        />
      </Fields>
    </>
  )
}

/// The usual ones, and the one that stands.
const offered = (usual: readonly string[], now: string): string[] => (usual.includes(now) ? [...usual] : [...usual, now])

function rateWords(rate: string): string {
  const [over = 0, under = 1] = rate.split('/').map(Number)
  return under === 1 ? String(over) : (over / under).toFixed(2)
}
