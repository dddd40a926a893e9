/// Standard output for results, standard error for everything else. A progress line is written over by
/// the next one on a terminal, and thinned out elsewhere.
export class Printer {
  #open = false
  #last = 0

  constructor() {
    // A reader that has seen enough (`| head`) is no failure.
    process.stdout.on('error', (error: NodeJS.ErrnoException) => {
      if (error.code === 'EPIPE') process.exit(0)
      throw error
    })
  }

  print(line: string): void {
    this.#close()
    process.stdout.write(line + '\n')
  }

  say(line: string): void {
    this.#close()
    process.stderr.write(line + '\n')
  }

  progress(line: string): void {
    if (process.stderr.isTTY) {
      process.stderr.write(`\r\x1b[K${line}`)
      this.#open = true
      return
    }
    const now = Date.now()
    if (now - this.#last < 5000) return
    this.#last = now
    process.stderr.write(line + '\n')
  }

  #close(): void {
    if (this.#open) process.stderr.write('\n')
    this.#open = false
  }
}
