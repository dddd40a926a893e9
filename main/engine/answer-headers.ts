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

export const everyAnswer: Readonly<Record<string, string>> = {
  'content-security-policy': contentPolicy,
  'cross-origin-resource-policy': 'same-origin',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-embedder-policy': 'require-corp',
  'x-content-type-options': 'nosniff',
  'x-frame-options': 'DENY',
  'referrer-policy': 'no-referrer',
  'permissions-policy': 'microphone=(self), camera=(), geolocation=(), display-capture=(), usb=(), serial=(), bluetooth=(), hid=(), midi=(), payment=()',
}
