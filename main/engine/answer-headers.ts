/// Headers that every answer carries, at either door.

/// What a page of ours may do: load and ask from where it came from, and nothing else. Sound and
/// pictures that it makes itself are blobs.
export const contentPolicy = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self' blob: data:",
  "media-src 'self' blob:",
  "font-src 'self'",
  "connect-src 'self'",
  "worker-src 'self' blob:",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join('; ')

/// What a kept evidence report may do: show what stands in it, in its own styles. It asks for nothing, runs nothing and
/// has no origin, so that whatever came to stand in it reaches nothing of the window's.
export const reportPolicy = [
  "default-src 'none'",
  'img-src data:',
  "style-src 'unsafe-inline'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
  'sandbox',
].join('; ')

export const everyAnswer: Readonly<Record<string, string>> = {
  'content-security-policy': contentPolicy,
  'cross-origin-resource-policy': 'same-origin',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-embedder-policy': 'require-corp',
  'x-content-type-options': 'nosniff',
  'x-frame-options': 'DENY',
  'referrer-policy': 'no-referrer',
  'permissions-policy':
    'microphone=(self), camera=(), geolocation=(), display-capture=(), usb=(), serial=(), bluetooth=(), hid=(), midi=(), payment=()',
}
