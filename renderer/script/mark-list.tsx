import { PenLine, X } from 'lucide-react'
import type { Reading } from '../../app/measure/reading'
import type { Breakdown } from '../../app/project/breakdown'
import type { Mark, Shot } from '../../app/project/picture'
import { Choice, Select } from '../sheets/fields'
import { markWords } from './mark-words'
import { isFramed, toolOf, tools, toolWords, unframed, type Tool } from './pointing'
import { withMarks, type NextShot } from './shot-changes'

interface Props {
  readonly shot: Exclude<Shot, { card: unknown }>
  readonly breakdown: Breakdown
  readonly readings: ReadonlyMap<string, Reading>
  readonly tool: Tool | null
  readonly onTool: (tool: Tool | null) => void
  /// Which mark is being drawn again; null: the tool draws one more.
  readonly again: number | null
  readonly onAgain: (mark: number | null) => void
  readonly word: string
  readonly onWord: (word: string) => void
  readonly onChange: (label: string, next: NextShot) => Promise<unknown>
}

/// What stands on a shot's picture, and the tools that put more there.
export function MarkList({ shot, breakdown, readings, tool, onTool, again, onAgain, word, onWord, onChange }: Props) {
  const marks = shot.marks ?? []
  const labelOf = (id: string): string => readings.get(id)?.plate.what ?? id
  const clips = 'run' in shot ? [shot.run] : 'hold' in shot ? [shot.hold] : shot.pair.map(({ clip }) => clip)
  const measures = [...readings.values()].filter(({ clip }) => clip === null || clips.includes(clip))
  const put = (id: string): Promise<unknown> | null => {
    if (id === '') return null
    // A value stands only on a frame that was shot; on anything that moves it is a plate that names its instant.
    const mark: Mark = 'run' in shot ? { plate: id } : id
    return onChange(
      'Show a measure',
      withMarks(shot, (all) => [...all, mark]),
    )
  }
  const events = (breakdown.events ?? []).filter(({ clip }) => clips.includes(clip))
  return (
    <section className="mark-list" aria-label="On this picture">
      <div className="tools" role="group" aria-label="Draw on the picture">
        {tools.map((each) => (
          <button
            key={each}
            type="button"
            aria-pressed={tool === each && again === null}
            onClick={() => onTool(tool === each && again === null ? null : each)}
            title={toolWords[each].how}
          >
            {toolWords[each].name}
          </button>
        ))}
        {isFramed(shot) && (
          <button type="button" onClick={() => onChange('Show the whole picture', unframed(shot))}>
            Whole picture
          </button>
        )}
      </div>
      <ToolHow tool={tool} again={again !== null} word={word} onWord={onWord} />
      {measures.length > 0 && (
        <Select
          label="Show a measure"
          value=""
          options={[
            ['', 'choose …'],
            ...measures.map(({ id, plate, frame }) => [id, `${plate.what}${frame === null ? '' : `, frame ${frame}`}`] as const),
          ]}
          onSet={put}
        />
      )}
      <ul className="plain">
        {marks.map((mark, i) => (
          <li key={i} className="mark-row">
            <span>{markWords(mark, breakdown, labelOf)}</span>
            {typeof mark !== 'string' && events.length > 0 && (
              <Choice
                key={JSON.stringify(appearing(mark, ''))}
                name="Appears"
                value={mark.on ?? ''}
                options={[['', 'for the whole shot'], ...events.map(({ id, name }) => [id, `from ${name}`] as const)]}
                onSet={(event) =>
                  onChange('Change when a mark appears', (now) =>
                    withMarks(now, (all) => all.map((each, at) => (at === i && isSame(each, mark) ? appearing(mark, event) : each))),
                  )
                }
              />
            )}
            {toolOf(mark) !== null && (
              <button
                type="button"
                className="small"
                aria-pressed={again === i}
                aria-label={`Draw it again: ${markWords(mark, breakdown, labelOf)}`}
                title="draw it again, in its place"
                onClick={() => onAgain(again === i ? null : i)}
              >
                <PenLine size={14} aria-hidden="true" />
              </button>
            )}
            <button
              type="button"
              className="small"
              aria-label={`Take away: ${markWords(mark, breakdown, labelOf)}`}
              title="take it away"
              onClick={() =>
                onChange(
                  'Take a mark away',
                  withMarks(shot, (all) => all.toSpliced(i, 1)),
                )
              }
            >
              <X size={14} aria-hidden="true" />
            </button>
          </li>
        ))}
      </ul>
    </section>
  )
}

const more: Partial<Readonly<Record<Tool, string>>> = {
  arrow: ' A head on a landmark follows it.',
  ring: ' A middle on a landmark follows it.',
  line: ' Ends on a landmark follow it.',
  word: ' On a landmark it follows that.',
  path: ' With keys: Enter at each corner, twice at the last.',
}

/// What to do with the tool in hand. All that may stand here takes its place at all times, so that the row does not move as
/// tools are chosen.
function ToolHow({ tool, again, word, onWord }: Pick<Props, 'tool' | 'word' | 'onWord'> & { readonly again: boolean }) {
  return (
    <div className="tool-how">
      {tools.map((each) => (
        <div key={each} className={each === tool ? undefined : 'not-now'}>
          {each === 'word' && (
            <label className={again ? 'not-now' : undefined}>
              Word{' '}
              <input
                value={word}
                onChange={(event) => onWord(event.target.value)}
                onKeyDown={(event) => event.stopPropagation()}
                size={14}
              />
            </label>
          )}
          <p className="quiet" role={each === tool ? 'status' : undefined}>
            {toolWords[each].how}
            {more[each] ?? ''} Escape ends.
          </p>
        </div>
      ))}
      <div className={tool ? 'not-now' : undefined}>
        <p className="quiet">Choose what to draw, then draw it on the picture.</p>
      </div>
    </div>
  )
}

/// Whether a mark is what it was, whenever it appears: others may have been taken away meanwhile.
const isSame = (now: Mark, mark: Exclude<Mark, string>): boolean =>
  typeof now !== 'string' && JSON.stringify(appearing(now, '')) === JSON.stringify(appearing(mark, ''))

function appearing(mark: Exclude<Mark, string>, event: string): Mark {
  const { on: _on, ...rest } = mark
  return (event === '' ? rest : { ...rest, on: event }) as Mark
}
