/// Something that a sentence claims and that nothing stands behind, or not enough.
export interface Finding {
  readonly code: 'typed-number' | 'value-missing' | 'value-refused' | 'value-changed' | 'cue-missing' | 'shot-missing' | 'mark-missing' | 'stronger-than-verdict' | 'hedge-missing'
  /// Where, as the document has it: "script[3].text", "script[3].shots[1]".
  readonly place: string
  readonly paragraph: string
  /// The sentence as captions show it; empty where the finding is on a shot.
  readonly sentence: string
  readonly problem: string
  /// What can be done about it.
  readonly wayOut: string
}
