import { WINDOW_ADDRESS } from './window-options'

/// What pages may ask of the shell: decided on addresses and names alone.

/// Whether an address is the window's own.
export function isOwn(address: string | undefined): boolean {
  try {
    const url = new URL(address ?? '')
    return `${url.protocol}//${url.host}/` === WINDOW_ADDRESS
  } catch {
    return false
  }
}

/// The window goes nowhere but to itself (a reload).
export const mayNavigate = (to: string): boolean => isOwn(to)

/// What opens in a window of its own: a published version's evidence report, which the engine keeps from running anything.
export function mayOpenBeside(address: string): boolean {
  return isOwn(address) && /^\/kept\/[^/]+\/evidence\.html$/.test(new URL(address).pathname)
}

/// What may be opened in the person's browser, after they clicked it: a plain web address and nothing
/// that another program would run.
export function mayOpenOutside(address: string): boolean {
  try {
    const url = new URL(address)
    return url.protocol === 'https:' && url.username === '' && url.password === ''
  } catch {
    return false
  }
}

/// The microphone, for narration; putting text on the clipboard; the whole screen for the player. All else
/// is refused, and so is everybody else.
export function mayHave(permission: string, asking: string | undefined, media: readonly string[] = []): boolean {
  if (!isOwn(asking)) return false
  if (permission === 'media') return media.length > 0 && media.every((kind) => kind === 'audio')
  return permission === 'clipboard-sanitized-write' || permission === 'fullscreen'
}
