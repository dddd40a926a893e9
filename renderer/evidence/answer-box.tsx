import { useState } from 'react'
import { keptAddress } from '../../app/contract/addresses'
import { filmTimeText } from '../../app/programme/sentence-time'
import { settingWords } from '../../app/project/reference'
import { answerAt, ANSWER_PROBLEMS, type FilmAnswer } from '../../app/release/answer'
import { errorParts } from '../../app/release/evidence-page'
import { byHandInWords, classesInWords } from '../../app/script/claims/class-words'
import { clipName } from '../script/clip-name'
import { useShown } from '../state/use-project'
import '../styles/release.css'

/// "08:12, how do you know?": type a time of a published version and see what was said then and what it rested on. It comes
/// from what was kept with the version, not from the footage.
export function AnswerBox() {
  const { breakdown } = useShown()
  const releases = breakdown?.releases ?? []
  const [question, setQuestion] = useState('')
  const [version, setVersion] = useState('')
  const found = breakdown && question.trim() !== '' ? answerAt(breakdown, question, version || undefined) : null
  return (
    <section className="answer" aria-label="Answer by time">
      <div className="answer-asked">
        <label>
          <span className="quiet">How do you know?</span>
          <input value={question} onChange={(event) => setQuestion(event.target.value)} placeholder="08:12" size={22} inputMode="text" />
        </label>
        {releases.length > 1 && (
          <label>
            <span className="quiet">version</span>
            <select value={version || releases.at(-1)?.id} onChange={(event) => setVersion(event.target.value)}>
              {releases.map((release) => (
                <option key={release.id} value={release.id}>
                  {release.version}, {release.date}
                </option>
              ))}
            </select>
          </label>
        )}
      </div>
      <div role="status">
        {typeof found === 'string' && <p className="quiet">{ANSWER_PROBLEMS[found]}</p>}
        {breakdown && found !== null && typeof found === 'object' && <Answer found={found} nameOf={(clip) => clipName(breakdown, clip)} />}
      </div>
    </section>
  )
}

function Answer({ found, nameOf }: { readonly found: FilmAnswer; readonly nameOf: (clip: string) => string }) {
  const { release, sentence, values, events, stills, film } = found
  return (
    <article className="answer-sheet">
      <p className="answer-words">
        <span className="figures">{filmTimeText(sentence.from_s ?? 0)}</span>
        <q>{sentence.words}</q>
      </p>
      <p>
        <strong>{classesInWords(sentence.classes ?? []) || 'no claim'}</strong>
        {sentence.classes?.includes('F') && found.references.length === 0 && <span className="quiet"> no reference is given for it</span>}
      </p>
      {sentence.byHand && <p className="quiet">Class {byHandInWords(sentence.byHand, sentence.classes ?? [])}.</p>}
      {stills.length > 0 && (
        <div className="answer-stills">
          {stills.map(({ name, frame: n, clipName: clip, at_s, file, source }) => {
            const frame = n === null ? name : `frame ${n} of ${clip}`
            return (
              <figure key={name}>
                <img src={keptAddress(release.id, name)} alt={frame} />
                <figcaption className="quiet">
                  {frame}
                  {at_s === null ? '' : `, ${at_s.toFixed(4)} s of `}
                  {at_s === null ? '' : <bdi>{file}</bdi>}
                  {source !== '' && (
                    <>
                      <br />
                      <bdi>{source}</bdi>
                    </>
                  )}
                </figcaption>
              </figure>
            )
          })}
        </div>
      )}
      <dl className="answer-facts">
        {values.map((value) => (
          <div key={value.measure}>
            <dt>value</dt>
            <dd>
              <strong>{value.value}</strong> {value.what}
              {value.parts.length > 0 && <div className="quiet">{errorParts(value)} (95 %)</div>}
              {value.reasons.length > 0 && <div className="quiet">{value.reasons.join('; ')}</div>}
            </dd>
          </div>
        ))}
        {events.map((event) => (
          <div key={event.id}>
            <dt>event</dt>
            <dd>
              {event.name}: {event.earliest === event.latest ? `frame ${event.earliest}` : `frames ${event.earliest} to ${event.latest}`} of{' '}
              <bdi>{release.clips?.find(({ id }) => id === event.clip)?.name ?? nameOf(event.clip)}</bdi>
            </dd>
          </div>
        ))}
        {found.references.map(({ id, text, population, limits, setting }) => (
          <div key={id}>
            <dt>cited</dt>
            <dd>
              <bdi>{text}</bdi>
              {population !== undefined && (
                <div className="quiet">
                  In: <bdi>{population}</bdi>
                </div>
              )}
              {limits !== undefined && (
                <div className="quiet">
                  Limits: <bdi>{limits}</bdi>
                </div>
              )}
              {setting !== undefined && setting.length > 0 && <div className="quiet">Setting: {settingWords(setting)}</div>}
            </dd>
          </div>
        ))}
        {found.films.map((earlier) => (
          <div key={`${earlier.film}${earlier.at}`}>
            <dt>earlier film</dt>
            <dd>
              <bdi>{earlier.film}</bdi> at {earlier.at}
              {earlier.says === undefined ? (
                ''
              ) : (
                <>
                  : <bdi>{earlier.says}</bdi>
                </>
              )}
            </dd>
          </div>
        ))}
        {sentence.take !== undefined && (
          <div>
            <dt>take</dt>
            <dd>
              {sentence.take} <span className="quiet">{shortSum(found.takeSha256)}</span>
            </dd>
          </div>
        )}
        <div>
          <dt>script</dt>
          <dd>
            version {release.project} <span className="quiet">{shortSum(release.document ?? null)}</span>
          </dd>
        </div>
        <div>
          <dt>film</dt>
          <dd>
            version {release.version} of {release.date} <span className="quiet">{shortSum(film?.sha256 ?? null)}</span>
          </dd>
        </div>
        {found.corrections.map((note) => (
          <div key={note.id}>
            <dt>note</dt>
            <dd>
              {note.date}: {note.note}
            </dd>
          </div>
        ))}
      </dl>
    </article>
  )
}

const shortSum = (sha256: string | null): string => (sha256 === null ? '' : `SHA-256 ${sha256.slice(0, 12)}…`)
