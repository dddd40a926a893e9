import type { BrowserWindowConstructorOptions, CustomScheme, WebPreferences } from 'electron'

/// What the window may do, as data: each line is held by a test (docs/security.md has the table).

export const SCHEME = 'claimframe'
/// The one address that the window stands on.
export const WINDOW_ADDRESS = `${SCHEME}://window/`

/// The scheme counts as secure and has an origin of its own, so that pages on it are held to the same
/// rules as pages of the loopback door. It goes round none of them.
export const scheme: CustomScheme = {
  scheme: SCHEME,
  privileges: {
    standard: true,
    secure: true,
    supportFetchAPI: true,
    stream: true,
    bypassCSP: false,
    corsEnabled: false,
    allowServiceWorkers: false,
    allowExtensions: false,
  },
}

export const webPreferences: WebPreferences = {
  nodeIntegration: false,
  nodeIntegrationInWorker: false,
  nodeIntegrationInSubFrames: false,
  contextIsolation: true,
  sandbox: true,
  webSecurity: true,
  allowRunningInsecureContent: false,
  experimentalFeatures: false,
  webviewTag: false,
  navigateOnDragDrop: false,
  autoplayPolicy: 'user-gesture-required',
  spellcheck: false,
  disableDialogs: true,
}

/// `preload` is the built preload script; `developing` opens the developer tools' door.
export const windowOptions = (preload: string, developing: boolean): BrowserWindowConstructorOptions => ({
  width: 1440,
  height: 900,
  minWidth: 960,
  minHeight: 600,
  show: false,
  title: 'Claimframe',
  backgroundColor: '#f7f5f0',
  webPreferences: { ...webPreferences, preload, devTools: developing },
})

/// A window that a report is read in: it has no preload script, and so nothing of ours.
export const reportOptions = (developing: boolean): BrowserWindowConstructorOptions => ({
  width: 960,
  height: 900,
  minWidth: 480,
  minHeight: 400,
  title: 'Evidence report',
  backgroundColor: '#ffffff',
  autoHideMenuBar: true,
  webPreferences: { ...webPreferences, devTools: developing },
})
