import type { MessageBoxSyncOptions } from 'electron'

/// Asked when the window is to close or to be read anew while something that was done is not on the disk.
export const leaveQuestion: MessageBoxSyncOptions = {
  type: 'question',
  message: 'Not everything you did is saved yet.',
  detail:
    'It is saved within moments, unless many samples are still being read. The window says “all saved” then, and can be closed. What is lost when you leave now cannot be brought back.',
  buttons: ['Stay', 'Leave and lose it'],
  defaultId: 0,
  cancelId: 0,
  noLink: true,
}

/// Whether the button that was pressed, by its place, lets the window go.
export const leavesAllTheSame = (button: number): boolean => button === 1
