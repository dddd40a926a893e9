import { CodedError } from '../../../app/errors/coded-error'
import { filmTimeText } from '../../../app/programme/sentence-time'
import { settingWords } from '../../../app/project/reference'
import { answerAt, ANSWER_PROBLEMS, type FilmAnswer } from '../../../app/release/answer'
import { errorParts } from '../../../app/release/evidence-page'
import { byHandInWords, classesInWords } from '../../../app/script/claims/class-words'
import { textOption, type Command } from '../command'
import { FINE } from '../exit-status'
import { load } from '../load'

export const answer: Command = {
  usage: 'answer <project or breakdown.json> <time> [--version name]',
  summary: '"08:12, how do you know?": what a published version said at that time, and what it rested on. Needs no footage.',
  options: { version: { type: 'string' } },
  async run(input) {
    const [path, ...time] = input.positionals
    if (!path || time.length === 0) throw new CodedError('wrong-use', { problem: `Usage: claimframe ${answer.usage}` })
    const { breakdown } = await load(path)
    const found = answerAt(breakdown, time.join(' '), textOption(input, 'version'))
    if (typeof found === 'string') throw new CodedError('wrong-use', { problem: ANSWER_PROBLEMS[found] })
    if (input.json) input.print(JSON.stringify(asData(found), null, 2))
    else for (const line of linesOf(found)) input.print(line)
    return FINE
  },
}

const asData = ({ release, ...rest }: FilmAnswer): unknown => ({
  version: release.version,
  date: release.date,
  project: release.project,
  document: release.document ?? null,
  ...rest,
})

function linesOf(found: FilmAnswer): string[] {
  const { release, sentence, values, events, stills } = found
  return [
    `${filmTimeText(sentence.from_s ?? 0)}  ${sentence.words}`,
    `class   ${classesInWords(sentence.classes ?? []) || 'no claim'}${sentence.byHand ? `, ${byHandInWords(sentence.byHand, sentence.classes ?? [])}` : ''}`,
    ...values.flatMap((value) => [
      `value   ${value.value} (${value.what})`,
      ...(value.parts.length > 0 ? [`error   ${errorParts(value)} (95 %)`] : []),
    ]),
    ...events.map((event) => `event   ${event.name}: frames ${event.earliest} to ${event.latest} of ${event.clip}`),
    ...found.references.flatMap(({ text, population, limits, setting }) => [
      `cited   ${text}`,
      ...(population ? [`        in: ${population}`] : []),
      ...(limits ? [`        limits: ${limits}`] : []),
      ...(setting && setting.length > 0 ? [`        setting: ${settingWords(setting)}`] : []),
    ]),
    ...found.films.map(({ film, at, says }) => `earlier ${film} at ${at}${says ? `: ${says}` : ''}`),
    ...stills.map(
      (still) =>
        `still   releases/${release.id}/${still.name}${still.at_s === null ? '' : `, ${still.at_s.toFixed(4)} s of ${still.file}`}${still.source ? `, ${still.source}` : ''}`,
    ),
    ...(sentence.take ? [`take    ${sentence.take}${found.takeSha256 ? `, SHA-256 ${found.takeSha256}` : ''}`] : []),
    `script  version ${release.project}${release.document ? `, SHA-256 ${release.document}` : ''}`,
    `film    version ${release.version} of ${release.date}${found.film ? `, SHA-256 ${found.film.sha256}` : ''}`,
    ...found.corrections.map((note) => `note    ${note.date}: ${note.note}`),
  ]
}
