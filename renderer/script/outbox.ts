import type { Node } from 'prosemirror-model'
import type { Step } from 'prosemirror-transform'
import type { StepJson } from '../../app/script/script-json'
import type { Project } from '../state/project'
import { afterSteps, isTyping, rebase, wordsOf, type Unsent } from './unsent'

/// How long the hand pauses between keys that Undo takes back one by one.
const PAUSE_MS = 500
/// How long typed keys wait for others to go with.
const TOGETHER_MS = 400

/// What was done in the editor on its way to the engine: one request at a time, and what is typed meanwhile follows behind
/// it, on whatever the script is by then.
export class Outbox {
  /// The engine's script, and its version.
  #confirmed: Node
  #base: number
  #unsent: Unsent[] = []
  #sending: Promise<void> | null = null
  #soon: ReturnType<typeof setTimeout> | undefined
  /// The project knows that words are waiting.
  #told = false
  #group = { id: crypto.randomUUID() as string, at: 0 }

  /// `rebased` is given the script where it is no longer what the editor has made of it.
  constructor(
    script: Node,
    version: number,
    private readonly project: Project,
    private readonly rebased: (script: Node) => void,
  ) {
    this.#confirmed = script
    this.#base = version
    project.unsent = () => this.settled()
  }

  /// Takes what was done; it goes when it is told to.
  add(done: Unsent): void {
    this.#unsent.push(done)
    if (!this.#told) this.project.waiting((this.#told = true))
  }

  /// Keys go together, a few at a time; anything else goes at once.
  sendSoon(): void {
    if (this.#unsent.every(isTyping)) this.#soon ??= setTimeout(() => this.send(), TOGETHER_MS)
    else this.send()
  }

  send(): void {
    clearTimeout(this.#soon)
    this.#soon = undefined
    if (this.#told && this.#unsent.length === 0 && !this.#sending) this.project.waiting((this.#told = false))
    if (this.#sending || this.#unsent.length === 0) return
    this.#sending = this.#sendNext().finally(() => {
      this.#sending = null
      const { state } = this.project.shown()
      if (state) this.#take(state.script, state.version, [])
      if (this.#unsent.length > 0) this.sendSoon()
      else this.send()
    })
  }

  /// Takes over what others, or Undo, did to the script. While something of ours is on its way, its answer does that.
  follow(script: Node, version: number): void {
    if (!this.#sending) this.#take(script, version, [])
  }

  /// Resolves once all that was done is on the disk, or refused.
  async settled(): Promise<void> {
    do {
      this.send()
      await this.#sending
    } while (this.#unsent.length > 0)
  }

  /// The editor goes; what it has done goes on its way.
  leave(): void {
    void this.settled()
    this.project.unsent = null
  }

  async #sendNext(): Promise<void> {
    const next = this.#next()
    const json = next.steps.map((step) => step.toJSON() as StepJson)
    const typed = isTyping(next)
    // By when the keys were pressed: a slow answer is no pause of the hand.
    if (!typed || next.began - this.#group.at > PAUSE_MS) this.#group = { id: crypto.randomUUID(), at: 0 }
    this.#group.at = next.ended
    const done = await this.project.edit(
      (state) => ({ label: next.label, steps: json, diffs: next.diffs?.(state) ?? [] }),
      typed ? this.#group.id : null,
      () => this.#base,
    )
    if (!typed) this.#group.at = 0
    const { state } = this.project.shown()
    if (!done) this.project.keep(wordsOf(next.steps))
    if (state) this.#take(state.script, state.version, next.steps)
  }

  /// What goes next: keys typed one after the other go together, anything else by itself.
  #next(): Unsent {
    const special = this.#unsent.findIndex((each) => !isTyping(each))
    const count = special < 0 ? this.#unsent.length : Math.max(1, special)
    const [first, ...others] = this.#unsent.splice(0, count) as [Unsent, ...Unsent[]]
    return others.length === 0 ? first : { ...first, steps: [first, ...others].flatMap(({ steps }) => steps), ended: others.at(-1)!.ended }
  }

  /// The engine's script is now this one; `flight` was on its way and has been answered.
  #take(script: Node, version: number, flight: readonly Step[]): void {
    const waiting = this.#unsent.flatMap(({ steps }) => steps)
    const expected = afterSteps(afterSteps(this.#confirmed, flight), waiting)
    const confirmed = this.#confirmed
    this.#confirmed = script
    this.#base = version
    if (expected && afterSteps(script, waiting)?.eq(expected)) return
    const { doc, unsent } = rebase(this.#unsent, confirmed, flight, script)
    this.#unsent = unsent
    this.rebased(doc)
  }
}
