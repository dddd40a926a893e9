import type { Node } from 'prosemirror-model'
import { useCallback, useEffect, useMemo, useState } from 'react'
import { useFilmTypeface } from '../player/film-typeface'
import { programmeOf } from '../state/programme'
import { useProject, useShown } from '../state/use-project'
import { AddFilms } from './add-films'
import { RowInHand } from './row-in-hand'
import { RestsOn } from './rests-on'
import { RowPictures } from './row-pictures'
import { ScriptEditor } from './script-editor'
import { Spine } from './spine'

const ROW = 152
const HAND = 492
const CHAPTER = 44

interface Row {
  readonly key: string
  readonly top: number
  readonly height: number
}

/// The script in two columns, pictures left and words right, with time running down between them. The row that the
/// caret is in is in hand: its picture is large, and steps frame by frame through the programme.
export function ScriptRoom() {
  const project = useProject()
  const shown = useShown()
  const typeface = useFilmTypeface()
  const { breakdown, tables, films, readings, takes } = shown
  const laid = useMemo(() => programmeOf(shown, typeface), [breakdown, tables, films, readings, takes, typeface])
  const [hand, setHand] = useState<string | null>(null)
  const [rows, setRows] = useState<readonly Row[]>([])
  const [frame, setFrame] = useState(0)
  const [insert, setInsert] = useState<{ readonly value: (measure: string) => void } | null>(null)

  const inHand = hand ?? breakdown?.script.find((entry) => 'text' in entry)?.id ?? null
  const heightOf = useCallback((node: Node) => (node.type.name === 'chapter' ? CHAPTER : node.attrs['id'] === inHand ? HAND : ROW), [inHand])
  const onRows = useCallback((next: readonly Row[]) => setRows((before) => (sameRows(before, next) ? before : next)), [])
  const onReady = useCallback((value: (measure: string) => void) => setInsert({ value }), [])
  const paragraph = laid?.programme.paragraphs.find((p) => p.id === inHand)

  useEffect(() => {
    if (paragraph) setFrame(paragraph.from)
  }, [inHand, laid === null])

  if (!breakdown) return null
  return (
    <div className="script">
      <div className="script-tools">
        {breakdown.footage.length === 0 && <AddFilms onAdd={(files) => void project.addFilms(files)} />}
        {insert && readings.size > 0 && (
          <label>
            Put in a value{' '}
            <select value="" onChange={(event) => insert.value(event.target.value)}>
              <option value="" disabled>choose …</option>
              {[...readings.values()].map((reading) => (
                <option key={reading.id} value={reading.id}>{reading.label}</option>
              ))}
            </select>
          </label>
        )}
        {!laid && breakdown.clips.length > 0 && <span className="quiet" role="status">The films are being read …</span>}
      </div>
      <div className="columns">
        <div className="pictures">
          {laid &&
            rows.map((row) => (
              <div key={row.key} className={row.key === inHand ? 'row hand' : 'row'} style={{ top: row.top, height: row.height }}>
                {row.key === inHand ? (
                  <RowInHand laid={laid} paragraph={row.key} frame={frame} onFrame={setFrame} />
                ) : (
                  <RowPictures programme={laid.programme} breakdown={breakdown} paragraph={row.key} />
                )}
              </div>
            ))}
        </div>
        <div className="spine" aria-hidden="true">
          {laid && rows.map((row) => <Spine key={row.key} programme={laid.programme} paragraph={row.key} top={row.top} height={row.height} frame={row.key === inHand ? frame : null} />)}
        </div>
        {rows.filter((row) => row.key === inHand).map((row) => (
          <div key={row.key} className="beneath" style={{ top: row.top, height: row.height }}>
            <RestsOn paragraph={row.key} />
          </div>
        ))}
        <ScriptEditor onCaret={setHand} heightOf={heightOf} onRows={onRows} onReady={onReady} hand={inHand} />
      </div>
    </div>
  )
}

const sameRows = (a: readonly Row[], b: readonly Row[]): boolean => a.length === b.length && a.every((row, i) => row.key === b[i]!.key && Math.abs(row.top - b[i]!.top) < 0.5 && Math.abs(row.height - b[i]!.height) < 0.5)
