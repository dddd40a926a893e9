import { useCallback, useEffect, useMemo, useRef, useState } from 'react'
import { useFilmTypeface } from '../player/film-typeface'
import { takeHeld, useMenu } from '../state/desktop-bridge'
import { programmeOf, type LaidFilm } from '../state/programme'
import { goTo, usePlace } from '../state/place'
import { useSize } from '../state/use-size'
import { usePart } from '../state/use-project'
import type { EditorRoom } from './editor-room'
import { FindBar } from './find-bar'
import { OutOfStep } from './out-of-step'
import { PutIn } from './put-in'
import { RestsOn } from './rests-on'
import { RowInHand } from './row-in-hand'
import { RowsAtRest } from './rows-at-rest'
import { useRowsNear } from './rows-near'
import type { RowBox } from './row-boxes'
import { RowGrips } from './row-grips'
import { SayOtherwise } from './say-otherwise'
import { ScriptBar } from './script-bar'
import { ScriptEditor } from './script-editor'
import { Spine } from './spine'
import { SpellingBar } from './spelling-bar'
import { SpineInHand } from './spine-in-hand'

/// Least height of the row in hand before its pictures are there, px.
const LEAST_HAND = 320
/// Room above and below what stands in a row, px.
const MARGIN = 28

/// The script in two columns, pictures left and words right, with time running down between them. The row that the
/// caret is in is in hand: its picture is large, and steps frame by frame through the programme.
export function ScriptRoom() {
  const breakdown = usePart('breakdown')
  const laid = useLaidFilm()
  const place = usePlace()
  const [hand, setHand] = useState<string | null>(() => place.paragraph)
  const [rows, setRows] = useState<readonly RowBox[]>([])
  const [frame, setFrame] = useState(0)
  const [editor, setEditor] = useState<EditorRoom | null>(null)
  const [finding, setFinding] = useState(() => takeHeld('find'))
  useMenu({ find: () => setFinding(true) })
  const [spelling, setSpelling] = useState(false)
  const [puttingIn, setPuttingIn] = useState(false)
  const [saying, setSaying] = useState(false)
  const [near, setNear] = useState(false)
  const [pictures, { height: handHeight }] = useSize()
  const [rests, { height: restsHeight }] = useSize()
  const columns = useRef<HTMLDivElement>(null)
  const drawn = useRowsNear(rows, columns)

  const first = breakdown?.script.find((entry) => 'text' in entry)?.id ?? null
  const inHand =
    hand !== null && (rows.length === 0 ? breakdown?.script.some((entry) => 'text' in entry && entry.id === hand) : true) ? hand : first
  const range = laid?.programme.paragraphs.find((p) => p.id === inHand)
  // Where the caret is, at once: `hand` follows a rendering later.
  const caret = useRef(hand)
  const onCaret = useCallback((paragraph: string | null) => {
    caret.current = paragraph
    setHand(paragraph)
    goTo({ paragraph })
  }, [])
  useEffect(() => {
    if (range && range.to > range.from && (frame < range.from || frame >= range.to)) setFrame(range.from)
  }, [range, frame])

  const go = useCallback(
    (at: number): void => {
      setFrame(at)
      const reached = laid?.programme.paragraphs.find(({ from, to }) => at >= from && at < to)
      if (reached && reached.id !== inHand) editor?.take(reached.id)
    },
    [laid, inHand, editor],
  )
  const pick = useCallback((paragraph: string) => editor?.goTo(paragraph), [editor])
  // Undo, and whoever else says where to look, while the room is open.
  useEffect(() => {
    if (place.paragraph !== null && place.paragraph !== caret.current) editor?.take(place.paragraph)
  }, [place.paragraph])
  const rowInHand = rows.find(({ key }) => key === inHand)
  useComing(editor, rowInHand ? rowInHand.top + rowInHand.height : 0)
  if (!breakdown) return null
  return (
    <div className="script">
      <ScriptBar
        editor={editor}
        reading={!laid && breakdown.clips.length > 0}
        onPutIn={() => setPuttingIn(true)}
        onSayOtherwise={() => setSaying(true)}
        onFind={() => setFinding(true)}
        onSpelling={() => setSpelling(true)}
      />
      {finding && editor && <FindBar editor={editor} onClose={() => setFinding(false)} />}
      {spelling && editor && <SpellingBar editor={editor} onClose={() => setSpelling(false)} />}
      <div className="columns" ref={columns}>
        {rowInHand && <div className="hand-band" style={{ top: rowInHand.top, height: rowInHand.height }} />}
        <div className="pictures">
          {laid && <RowsAtRest rows={drawn} inHand={inHand} laid={laid} onPick={pick} />}
          {laid && rowInHand && inHand && (
            <div className="row hand" style={{ top: rowInHand.top, height: rowInHand.height }}>
              <div ref={pictures} className="hand-content">
                <RowInHand laid={laid} paragraph={inHand} frame={frame} near={near} onNear={setNear} onFrame={go} />
              </div>
            </div>
          )}
        </div>
        <div className="spine" aria-hidden="true">
          {laid &&
            drawn.map(
              (row) =>
                row.key !== inHand && <Spine key={row.key} laid={laid} paragraph={row.key} top={row.top} height={row.height} onGo={go} />,
            )}
          {laid && rowInHand && inHand && (
            <SpineInHand laid={laid} paragraph={inHand} top={rowInHand.top} height={rowInHand.height} frame={frame} near={near} onGo={go} />
          )}
        </div>
        <ScriptEditor
          hand={inHand}
          handHeight={Math.max(LEAST_HAND, handHeight + MARGIN)}
          beneath={restsHeight > 0 ? restsHeight + MARGIN + 8 : 16}
          onCaret={onCaret}
          onRows={setRows}
          onPutIn={() => setPuttingIn(true)}
          onSayOtherwise={() => setSaying(true)}
          onFind={() => setFinding(true)}
          onSpelling={() => setSpelling(true)}
          onReady={setEditor}
        />
        {rowInHand && inHand && (
          <div className="beneath" style={{ top: rowInHand.words + 12 }}>
            <div ref={rests}>
              {laid && <OutOfStep threads={laid.threads} paragraph={inHand} />}
              <RestsOn paragraph={inHand} />
            </div>
          </div>
        )}
        {editor && <RowGrips rows={rows} near={drawn} inHand={inHand} editor={editor} columns={columns} />}
      </div>
      {puttingIn && editor && <PutIn editor={editor} onClose={() => setPuttingIn(false)} />}
      {saying && editor && <SayOtherwise editor={editor} onClose={() => setSaying(false)} />}
    </div>
  )
}

/// Who comes here from elsewhere finds the paragraph that they came for, whatever its pictures still make of its row,
/// until they do something themselves.
function useComing(editor: EditorRoom | null, end: number): void {
  const { paragraph } = usePlace()
  const [target] = useState(paragraph)
  const touched = useRef(false)
  useEffect(() => {
    const touch = (): void => void (touched.current = true)
    const kinds = ['pointerdown', 'wheel', 'keydown'] as const
    for (const kind of kinds) window.addEventListener(kind, touch, { capture: true, passive: true })
    return () => {
      for (const kind of kinds) window.removeEventListener(kind, touch, { capture: true })
    }
  }, [])
  useEffect(() => {
    if (editor && target !== null && !touched.current) editor.take(target)
  }, [editor, target, end])
}

function useLaidFilm(): LaidFilm | null {
  const breakdown = usePart('breakdown')
  const tables = usePart('tables')
  const films = usePart('films')
  const readings = usePart('readings')
  const takes = usePart('takes')
  const typeface = useFilmTypeface()
  return useMemo(
    () => programmeOf({ breakdown, tables, films, readings, takes }, typeface),
    [breakdown, tables, films, readings, takes, typeface],
  )
}
