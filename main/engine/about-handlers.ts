import { homedir } from 'node:os'
import type { Handlers } from '../../app/contract/calls'
import type { desktopCalls } from '../../app/contract/desktop-calls'
import { CodedError } from '../../app/errors/coded-error'
import type { Workspace } from './workspace'

const elsewhere = (what: string) => (): never => {
  throw new CodedError('desktop-only', { what })
}

/// The desktop shell answers its own calls before they come here.
export function aboutHandlers(workspace: Workspace, version: string): Handlers<keyof typeof desktopCalls> {
  return {
    'engine.about': async () => ({
      version,
      ffmpeg: await workspace.tool().then(
        (tool) => tool.version,
        () => null,
      ),
      fileDialog: false,
      showInFolder: false,
      home: homedir(),
    }),
    'desktop.chooseFiles': elsewhere('The system’s file dialog'),
    'desktop.chooseTarget': elsewhere('The system’s file dialog'),
    'desktop.showInFolder': elsewhere('Showing a file in its folder'),
  }
}
