declare module 'webvtt-parser' {
  export interface CueNode {
    readonly type: string
    readonly value?: string
    readonly children?: readonly CueNode[]
  }
  export interface ParsedCue {
    readonly id: string
    readonly startTime: number
    readonly endTime: number
    readonly text: string
    readonly tree: CueNode
  }
  export class WebVTTParser {
    /// `entities`: HTML's named character references; without them the parser knows none with a semicolon.
    constructor(entities: Readonly<Record<string, string>>)
    parse(
      input: string,
      mode?: string,
    ): { readonly cues: readonly ParsedCue[]; readonly errors: readonly { readonly message: string; readonly line: number }[] }
  }
}
