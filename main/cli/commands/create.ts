import { CodedError } from '../../../app/errors/coded-error'
import { createProject } from '../../store/create-project'
import { textOption, type Command } from '../command'
import { FINE } from '../exit-status'
import { loadDocument } from '../load'

export const create: Command = {
  usage: 'create <project> --from <breakdown.json>',
  summary: 'Makes a project from a breakdown document.',
  options: { from: { type: 'string' } },
  async run(input) {
    const [project, ...rest] = input.positionals
    const from = textOption(input, 'from')
    if (!project || rest.length > 0 || !from)
      throw new CodedError('wrong-use', { problem: 'Usage: claimframe create <project> --from <breakdown.json>' })
    const breakdown = await loadDocument(from)
    const made = createProject(project, breakdown)
    if (!made.ok) throw made.error
    input.print(input.json ? JSON.stringify({ project, title: breakdown.title }) : `${project} was made from ${from}.`)
    return FINE
  },
}
