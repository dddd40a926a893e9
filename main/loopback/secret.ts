import { createHash, randomBytes, timingSafeEqual } from 'node:crypto'

/// A word that cannot be guessed: 192 bits, letters that need no escaping in a path or a header.
export const newSecret = (): string => randomBytes(24).toString('base64url')

/// Whether what was given is the secret; takes the same time wherever they differ.
export function isSecret(given: string | undefined, secret: string): boolean {
  if (given === undefined) return false
  return timingSafeEqual(digest(given), digest(secret))
}

const digest = (text: string): Buffer => createHash('sha256').update(text).digest()
