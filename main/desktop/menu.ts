import type { MenuItemConstructorOptions } from 'electron'
import type { MenuCommand } from '../../app/contract/menu-commands'

/// The menus. Undo and Redo are the project's, not the text field's.
export function menus(send: (command: MenuCommand) => void, mac: boolean): MenuItemConstructorOptions[] {
  const item = (label: string, command: MenuCommand, accelerator?: string): MenuItemConstructorOptions => ({
    label,
    click: () => send(command),
    ...(accelerator === undefined ? {} : { accelerator }),
  })
  const line: MenuItemConstructorOptions = { type: 'separator' }
  return [
    ...(mac ? [{ role: 'appMenu' as const }] : []),
    {
      label: '&File',
      submenu: [
        item('New project…', 'new-project', 'CmdOrCtrl+N'),
        item('Open…', 'open-project', 'CmdOrCtrl+O'),
        item('Save a copy…', 'save-copy', 'CmdOrCtrl+Shift+S'),
        line,
        item('Add films…', 'add-films', 'CmdOrCtrl+I'),
        item('Render…', 'render', 'CmdOrCtrl+R'),
        line,
        { role: mac ? 'close' : 'quit' },
      ],
    },
    {
      label: '&Edit',
      submenu: [
        item('Undo', 'undo', 'CmdOrCtrl+Z'),
        item('Redo', 'redo', mac ? 'Cmd+Shift+Z' : 'Ctrl+Y'),
        line,
        { role: 'cut' },
        { role: 'copy' },
        { role: 'paste' },
        { role: 'selectAll' },
        line,
        item('Find and replace…', 'find', 'CmdOrCtrl+F'),
      ],
    },
    { label: '&View', submenu: [{ role: 'resetZoom' }, { role: 'zoomIn' }, { role: 'zoomOut' }, line, { role: 'togglefullscreen' }] },
    { label: '&Help', submenu: [item('Keys', 'keyboard-map', 'F1')] },
  ]
}
