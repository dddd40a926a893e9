import type { z } from 'zod'
import { claimCalls } from './claim-calls'
import { desktopCalls } from './desktop-calls'
import { editCalls } from './edit-calls'
import { footageCalls } from './footage-calls'
import { projectCalls } from './project-calls'
import { scriptCalls } from './script-calls'
import { takeCalls } from './take-calls'
import { workCalls } from './work-calls'

/// Every call between window and engine, by name. Both ends are derived from this list: the window's
/// from `engineClient`, the engine's from `Handlers`.
export const calls = {
  ...projectCalls,
  ...editCalls,
  ...footageCalls,
  ...scriptCalls,
  ...claimCalls,
  ...workCalls,
  ...takeCalls,
  ...desktopCalls,
} as const

export type CallName = keyof typeof calls
/// What a caller gives: fields with a default may be left out.
export type CallInput<N extends CallName> = z.input<(typeof calls)[N]['input']>
/// What a handler gets.
export type CallAsked<N extends CallName> = z.output<(typeof calls)[N]['input']>
export type CallOutput<N extends CallName> = z.output<(typeof calls)[N]['output']>

export const isCallName = (name: string): name is CallName => Object.hasOwn(calls, name)

/// The engine's end: a handler for each call. It answers the value, or throws a CodedError, which
/// travels as a refusal.
export type Handlers<N extends CallName = CallName> = { readonly [K in N]: (asked: CallAsked<K>) => Promise<CallOutput<K>> | CallOutput<K> }
