/// The notices that a film of hard blows carries, in our own words. They are drafts: a clinician has to
/// approve them before release, and local rules stand first. The signs in `health` are the red flags of the Concussion
/// Recognition Tool (Concussion in Sport Group), as carried by first-aid pages (secondary sources), reworded.
export const cautionText = {
  start: 'Shows hard blows and people being knocked out. For study and discussion. Values are estimates from video, with stated error.',
  health:
    'This is not medical advice and cannot show whether anyone was injured. If a concussion is suspected, stop the activity at once, do not return that day, do not leave the person alone, and see a licensed health professional, even if the signs pass. Neck pain, double vision, weakness or tingling in arms or legs, a severe or worsening headache, a seizure, loss or lowering of consciousness, vomiting, or growing confusion, restlessness or aggression: call emergency services.',
  practice:
    'Do not try head strikes outside supervised training with a qualified coach, protective equipment and agreed contact rules. Power shown here is no goal for sparring.',
  estimates:
    'Not a diagnosis, judging decision, or evidence of intent or fault. Do not use for betting, selection, medical or legal decisions.',
} as const

/// Stands on every page of these notices until they are approved.
export const CAUTION_DRAFT = 'draft: to be approved by a clinician'

/// A notice stands at least this long, seconds.
export const CAUTION_SECONDS = 4

/// Reading time of words on a picture: 0.33 s a word and 0.5 s to find them (a default of the trade [J]).
export const readingSeconds = (text: string): number => 0.5 + 0.33 * text.split(/\s+/u).filter((word) => /[\p{L}\p{N}]/u.test(word)).length
