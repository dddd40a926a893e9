import { isSecret, newSecret } from './secret'

/// How long a code may lie about before it is used.
export const CODE_LIFE_MS = 10 * 60_000
const AT_ONCE = 20

/// Codes that open a window once.
export class OneTimeCodes {
  #codes: { readonly code: string; readonly until: number }[] = []

  constructor(private readonly now: () => number) {}

  make(): string {
    const code = newSecret()
    this.#codes = [...this.#codes.filter((c) => c.until > this.now()), { code, until: this.now() + CODE_LIFE_MS }].slice(-AT_ONCE)
    return code
  }

  /// True once for each code that was made and has not run out.
  use(given: string): boolean {
    const found = this.#codes.find((c) => isSecret(given, c.code))
    if (!found) return false
    this.#codes = this.#codes.filter((c) => c !== found)
    return found.until > this.now()
  }
}
