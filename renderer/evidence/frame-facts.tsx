import type { FilmFacts } from '../../app/contract/footage-calls'
import type { Breakdown } from '../../app/project/breakdown'
import { captureWords } from '../../app/project/capture-words'
import { exact } from '../../app/project/fields'
import type { Clip } from '../../app/project/film'
import type { EvidenceStill } from '../../app/release/evidence-still'
import { keptStill, type Support } from '../../app/release/support'
import { secondsAt, type FrameTable } from '../../app/time/frame-table'
import { toNumber } from '../../app/time/rational'
import { clipAt, clipName } from '../script/clip-name'
import { isGone } from '../state/programme'
import { useShown } from '../state/use-project'
import { Fact } from './fact'

/// Which frame, when it stands in the file, and whose film that is. `end`: which end of a bracket it is.
export function FrameFacts({
  still,
  support,
  breakdown,
  film: whole,
  end,
}: {
  readonly still: EvidenceStill
  readonly support: Support
  readonly breakdown: Breakdown
  readonly film: boolean
  readonly end: 'earliest' | 'latest' | null
}) {
  const { films, tables } = useShown()
  const clip = clipAt(breakdown, still.clip)
  const footage = breakdown.footage.find(({ id }) => id === clip?.footage)
  if (!clip || !footage) return null
  const table = tables.get(footage.id)
  const around =
    support.of === 'event'
      ? []
      : (breakdown.events ?? []).filter((event) => event.clip === clip.id && event.earliest <= still.frame && still.frame <= event.latest)
  const film = films.get(footage.id)
  const kept = isGone(film) ? keptStill(still, breakdown) : null
  return (
    <>
      <Fact name={end ?? 'frame'}>
        {end === null ? still.frame : `frame ${still.frame}`} of <bdi>{clipName(breakdown, clip.id)}</bdi>
        {timeWords(table, still.frame, support.of === 'event' && end === null) ||
          (kept?.at_s === undefined ? '' : `, ${kept.at_s.toFixed(4)} s`)}
        {around.map(({ id, name, earliest, latest }) => (
          <span key={id}>
            , in <bdi>{name}</bdi>
            {earliest === latest ? '' : ` (${earliest} to ${latest})`}
          </span>
        ))}
      </Fact>
      {whole && (
        <>
          <Fact name="film">
            <bdi>{[fileName(footage.file), shotWords(clip, film), clip.mirrored ? 'mirrored' : ''].filter(Boolean).join(' · ')}</bdi>
          </Fact>
          <SourceFact source={footage.source ?? {}} />
          <Fact name="still">
            {isGone(film) && (kept ? `as version ${kept.release.version} kept it; the film is not there` : 'none: the film is not there')}
          </Fact>
        </>
      )}
    </>
  )
}

function SourceFact({ source }: { readonly source: NonNullable<Breakdown['footage'][number]['source']> }) {
  const said = [source.credit ?? source.owner, source.where, source.when].filter(Boolean)
  const blank = [(source.credit ?? source.owner) ? '' : 'whose it is', source.where ? '' : 'where', source.when ? '' : 'when'].filter(
    Boolean,
  )
  return (
    <>
      <Fact name="source">{said.length > 0 && <bdi>{said.join(' · ')}</bdi>}</Fact>
      {said.length === 0 ? (
        <Fact name="source">
          <i>no source card is filled in</i>
        </Fact>
      ) : (
        blank.length > 0 && (
          <Fact name="">
            <i>not said: {blank.join(', ')}</i>
          </Fact>
        )
      )}
    </>
  )
}

/// ", 5.2000 s"; `instant`: an instant known to half a frame either way.
function timeWords(table: FrameTable | undefined, frame: number, instant: boolean): string {
  if (!table || frame >= table.pts.length) return ''
  const at = secondsAt(table, frame)
  return `, ${at.toFixed(4)} s${instant ? ` ± ${((secondsAt(table, frame + 1) - at) / 2).toFixed(4)} s` : ''}`
}

/// How fast it was really shot: "120 frames a second, played 4 times slower".
function shotWords({ capture }: Clip, film: FilmFacts | undefined): string {
  if (capture === 'unknown' || !film?.rate) return captureWords(capture)
  const rate = `${Number((toNumber(film.rate) * toNumber(exact(capture.factor))).toFixed(2))} frames a second`
  return capture.factor === '1' && capture.u === 0 ? rate : `${rate}, ${captureWords(capture)}`
}

const fileName = (file: string): string => file.slice(file.lastIndexOf('/') + 1)
