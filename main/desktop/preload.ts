import { contextBridge, ipcRenderer, webUtils } from 'electron'

/// All that a page on the desktop has beyond one in a browser: it hears of menu entries, and learns the
/// path of a file that a person dropped on it. Nothing of Electron itself is handed over.
contextBridge.exposeInMainWorld('claimframeDesktop', {
  onMenu(listener: (command: string) => void): () => void {
    const hear = (_event: unknown, command: unknown): void => {
      if (typeof command === 'string') listener(command)
    }
    ipcRenderer.on('menu', hear)
    return () => void ipcRenderer.off('menu', hear)
  },
  pathOf: (file: Parameters<typeof webUtils.getPathForFile>[0]): string => webUtils.getPathForFile(file),
})
