/// One command of the command line.
export interface Command {
  readonly usage: string
  readonly summary: string
  /// Options in the form that `node:util` parseArgs takes; `--json` and `--help` are added for all.
  readonly options: Readonly<Record<string, { readonly type: 'string' | 'boolean'; readonly short?: string; readonly multiple?: boolean }>>
  /// Answers the exit status.
  run(input: CommandInput): Promise<number>
}

export interface CommandInput {
  readonly positionals: readonly string[]
  readonly values: Readonly<Record<string, string | boolean | undefined>>
  readonly json: boolean
  readonly signal: AbortSignal
  /// One line, or a JSON value, on standard output.
  print(line: string): void
  /// Progress and remarks, on standard error.
  say(line: string): void
  /// A line that is written over by the next one where standard error is a terminal.
  progress(line: string): void
}

export const textOption = (input: CommandInput, name: string): string | undefined => {
  const value = input.values[name]
  return typeof value === 'string' ? value : undefined
}
