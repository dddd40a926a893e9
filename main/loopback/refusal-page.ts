import { refusalWith } from '../../app/contract/refusal'

/// What a refused request is answered with: the same whatever was wrong, so that nothing can be
/// learned from it. The reason stands in the log.
export function refusalPage(html: boolean): string {
  const problem = 'this address opens no window, or has been used already; run claimframe open again'
  if (!html) return JSON.stringify({ ok: false, error: refusalWith('not-allowed', { problem }) })
  return [
    '<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Claimframe</title></head><body>',
    '<h1>This address opens no window</h1>',
    '<p>Each address that Claimframe prints opens one window, once, within ten minutes. Run <code>claimframe open</code> again for a new one.</p>',
    '</body></html>',
  ].join('\n')
}
