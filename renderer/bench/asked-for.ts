import type { Measure } from '../../app/project/question'
import { questions, type Question } from './measure-questions'
import { noChoices, type CaseState, type Choices } from './question-choices'

/// The question that made a measure, and what was chosen for it; null for one that is asked anew instead of changed.
export function askedFor(measure: Measure): { readonly question: Question; readonly choices: Choices } | null {
  const question = questions.find(({ name }) => name === measure.kind)
  if (!question) return null
  if (measure.kind === 'comparison')
    return {
      question,
      choices: {
        ...noChoices,
        first: measure.measures[0],
        second: measure.measures[1],
        delta: measure.margin ? String(measure.margin.delta) : '',
      },
    }
  if (measure.kind !== 'count') return null
  const state = (holds: boolean | null): CaseState => (holds === null ? 'not usable' : holds ? 'seen' : 'not seen')
  return {
    question,
    choices: {
      ...noChoices,
      what: measure.what,
      set: measure.set,
      cases: Object.fromEntries(measure.cases.map(({ clip, holds, note }) => [clip, { state: state(holds), note: note ?? '' }])),
    },
  }
}
