/// What a caption may be. Two lines, 42 characters (BBC guideline summary,
/// secondary), 17 characters a second aimed at, 20 the most (Ofcom's 160–180 words a minute as given
/// by BBC R&D, secondary), 1–7 s (from memory), gap of two frames (common practice, no source).
export interface CaptionLimits {
  readonly lines: number
  readonly characters: number
  /// Characters a second: aimed at, and not to be passed.
  readonly readingRate: number
  readonly readingRateMost: number
  /// Seconds on screen.
  readonly shortest: number
  readonly longest: number
  /// Output frames between two captions.
  readonly gapFrames: number
}

export const CAPTION_LIMITS: CaptionLimits = {
  lines: 2,
  characters: 42,
  readingRate: 17,
  readingRateMost: 20,
  shortest: 1,
  longest: 7,
  gapFrames: 2,
}

/// A limit that a caption could not keep.
export type CaptionFlag =
  | 'line-too-long'
  /// Above the rate aimed at, and above the most.
  | 'reads-fast'
  | 'reads-too-fast'
  | 'too-short'
  | 'too-long'
  | 'straddles-cut'

/// Words that take longer to read; their characters count for a fifth more (a judgement).
const ANATOMICAL: ReadonlySet<string> = new Set(
  (
    'abduction abductor adduction adductor ankle apparent biceps clavicle deltoid dissociation dorsiflexion eccentric concentric elbow extension external extensor femur fibula flexion flexor ' +
    'foreshortening frontal glute gluteal hamstring humerus hyperextension iliac internal kinetic lateral lumbar lumbopelvic medial oblique obliques patella pectoral pelvic pelvis plantarflexion ' +
    'pronation quadriceps radius rotation rotational rotator sagittal scapula scapular separation shortening spine sternum supination supinated thoracic thorax tibia torso transverse triceps ulna valgus varus vertebra vertebrae'
  ).split(' '),
)

/// Characters of a text as reading time counts them: spaces included, anatomical words and numbers
/// a fifth more.
export function readingCharacters(text: string): number {
  let count = [...text].length
  for (const match of text.matchAll(/[\p{L}'’]+|[±−-]?\d[\d.,]*[°%]?/gu))
    if (/\d/.test(match[0]) || ANATOMICAL.has(match[0].toLowerCase())) count += 0.2 * [...match[0]].length
  return count
}
