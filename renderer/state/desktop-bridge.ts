import { useEffect, useRef } from 'react'
import { menuCommands, type MenuCommand } from '../../app/contract/menu-commands'

/// What the desktop's shell gives a page beyond what a browser does. Absent in a browser.
interface DesktopBridge {
  readonly onMenu: (listener: (command: string) => void) => () => void
  readonly pathOf: (file: File) => string
}

declare global {
  interface Window {
    readonly claimframeDesktop?: DesktopBridge
  }
}

/// Does what the desktop's menus ask for, while the component stands. What it has no verb for, others may have.
export function useMenu(verbs: Partial<Record<MenuCommand, () => void>>): void {
  const now = useRef(verbs)
  now.current = verbs
  useEffect(
    () =>
      window.claimframeDesktop?.onMenu((command) => {
        const known = menuCommands.find((each) => each === command)
        if (known) now.current[known]?.()
      }),
    [],
  )
}

/// Kinds of input into which nothing is typed.
const UNTYPED: ReadonlySet<string> = new Set(['button', 'checkbox', 'color', 'file', 'image', 'radio', 'range', 'reset', 'submit'])

/// Whether something is typed in a field, which undoes by itself what it has not set yet.
export const inField = (target: EventTarget | null): boolean =>
  target instanceof HTMLTextAreaElement || (target instanceof HTMLInputElement && !UNTYPED.has(target.type))

/// Where a dropped or chosen file lies; null where the window has its bytes alone.
export const pathOf = (file: File): string | null => window.claimframeDesktop?.pathOf(file) || null

let held: MenuCommand | null = null

/// Leaves a command to the room that is about to open.
export const holdCommand = (command: MenuCommand): void => void (held = command)

/// Whether a command was left for this room.
export function takeHeld(command: MenuCommand): boolean {
  const mine = held === command
  if (mine) held = null
  return mine
}
