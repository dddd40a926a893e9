import { chmodSync, mkdirSync } from 'node:fs'
import { homedir } from 'node:os'
import { join } from 'node:path'

/// Folder of what Claimframe remembers for this user: recent projects, and where running engines are.
/// Nobody else can read it. `CLAIMFRAME_STATE` names another.
export function stateFolder(): string {
  const folder = process.env['CLAIMFRAME_STATE'] ?? usualFolder()
  mkdirSync(folder, { recursive: true, mode: 0o700 })
  if (process.platform !== 'win32') chmodSync(folder, 0o700)
  return folder
}

function usualFolder(): string {
  if (process.platform === 'darwin') return join(homedir(), 'Library', 'Application Support', 'claimframe')
  if (process.platform === 'win32') return join(process.env['LOCALAPPDATA'] ?? join(homedir(), 'AppData', 'Local'), 'claimframe')
  return join(process.env['XDG_STATE_HOME'] ?? join(homedir(), '.local', 'state'), 'claimframe')
}
