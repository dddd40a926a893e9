#!/usr/bin/env node
import { parseArgs } from 'node:util'
import { CodedError } from '../../app/errors/coded-error'
import { codedSystemError } from '../system-error'
import type { Command, CommandInput } from './command'
import { BAD_INPUT, exitStatusOf, FINE } from './exit-status'
import { Printer } from './printer'

/// Each is read when it is called: the whole program takes a second to start, most of it for what one command alone needs.
const commands: Readonly<Record<string, () => Promise<Command>>> = {
  open: async () => (await import('./commands/open')).open,
  create: async () => (await import('./commands/create')).create,
  dump: async () => (await import('./commands/dump')).dump,
  probe: async () => (await import('./commands/probe')).probe,
  readings: async () => (await import('./commands/readings')).readings,
  claims: async () => (await import('./commands/claims')).claims,
  narrate: async () => (await import('./commands/narrate')).narrate,
  render: async () => (await import('./commands/render')).render,
  export: async () => (await import('./commands/export')).exportCommand,
  release: async () => (await import('./commands/release')).release,
  answer: async () => (await import('./commands/answer')).answer,
}

process.exitCode = await main(process.argv.slice(2))

async function main(words: readonly string[]): Promise<number> {
  const printer = new Printer()
  const name = words[0]
  if (name === undefined || name === '--help' || name === '-h' || name === 'help') {
    printer.print(await overview())
    return name === undefined ? BAD_INPUT : FINE
  }
  const command = Object.hasOwn(commands, name) ? await commands[name]?.() : undefined
  if (!command) {
    printer.say(`claimframe: there is no command ${JSON.stringify(name)}.\n\n${await overview()}`)
    return BAD_INPUT
  }
  const parsed = parse(command, words.slice(1))
  if (typeof parsed === 'string') {
    printer.say(`claimframe ${name}: ${parsed}\nUsage: claimframe ${command.usage}`)
    return BAD_INPUT
  }
  if (parsed.values['help']) {
    printer.print(`Usage: claimframe ${command.usage}\n${command.summary}`)
    return FINE
  }
  const stop = new AbortController()
  const onSignal = (): void => stop.abort()
  process.once('SIGINT', onSignal).once('SIGTERM', onSignal)
  const json = parsed.values['json'] === true
  const input: CommandInput = {
    ...parsed,
    json,
    signal: stop.signal,
    print: (l) => printer.print(l),
    say: (l) => printer.say(l),
    progress: (l) => printer.progress(l),
  }
  try {
    return await command.run(input)
  } catch (thrown) {
    const error = codedSystemError(thrown, input.positionals[0] ?? 'a file')
    printer.say(json ? JSON.stringify({ error: codeOf(error), message: messageOf(error) }) : `claimframe ${name}: ${messageOf(error)}`)
    return exitStatusOf(error)
  } finally {
    process.off('SIGINT', onSignal).off('SIGTERM', onSignal)
  }
}

function parse(command: Command, words: readonly string[]): Pick<CommandInput, 'positionals' | 'values'> | string {
  try {
    const { positionals, values } = parseArgs({
      args: [...words],
      options: { ...command.options, json: { type: 'boolean' }, help: { type: 'boolean', short: 'h' } },
      allowPositionals: true,
      strict: true,
    })
    return { positionals, values: values as CommandInput['values'] }
  } catch (error) {
    return error instanceof Error ? error.message.split('\n')[0]! : String(error)
  }
}

function codeOf(error: unknown): string {
  return error instanceof CodedError ? error.code : 'unexpected'
}

function messageOf(error: unknown): string {
  if (error instanceof CodedError) return error.message
  if (process.env['CLAIMFRAME_TRACE']) return error instanceof Error ? (error.stack ?? error.message) : String(error)
  return `something unexpected happened: ${error instanceof Error ? error.message : String(error)}\nRun again with CLAIMFRAME_TRACE=1 for where it happened.`
}

async function overview(): Promise<string> {
  const lines = (await Promise.all(Object.values(commands).map((read) => read()))).map((c) => `  claimframe ${c.usage}\n      ${c.summary}`)
  return [
    'claimframe: narrated movement breakdowns, each claim on a frame and a measured value',
    '',
    ...lines,
    '',
    'Every command takes --json. Exit status: 0 fine, 1 findings, 2 wrong use or bad input, 3 failed.',
  ].join('\n')
}
