import { CodedError } from '../../app/errors/coded-error'
import type { Command, CommandInput } from './command'

/// The one file that a command works on. Throws CodedError `wrong-use` for none or several.
export function onePath(input: CommandInput, command: Command): string {
  const [path, ...rest] = input.positionals
  if (!path || rest.length > 0) throw new CodedError('wrong-use', { problem: `Usage: claimframe ${command.usage}` })
  return path
}
