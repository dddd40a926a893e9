/// What an entry of the desktop's menus asks of the window, which does it as if its own key had been pressed.
export const menuCommands = [
  'new-project',
  'open-project',
  'add-films',
  'save-copy',
  'render',
  'undo',
  'redo',
  'find',
  'keyboard-map',
] as const
export type MenuCommand = (typeof menuCommands)[number]
