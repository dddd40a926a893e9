/// Every message a person can meet, written once: what happened, and what to do.
/// Keys are the error codes; the arguments are the error's parameters.
/// `place` says where in a document or project; `file` names a file as the user wrote it.
export interface ErrorParameters {
  'document-invalid': { file: string; problems: readonly { place: string; problem: string }[] }
  'document-not-json': { file: string; problem: string }
  'file-missing': { file: string }
  'file-unreadable': { file: string; problem: string }
  'file-unwritable': { file: string; problem: string }
  'file-exists': { file: string }
  'not-a-video': { file: string; problem: string }
  'no-picture': { file: string }
  'film-empty': { file: string }
  'film-damaged': { file: string; problem: string }
  'project-not-ours': { file: string }
  'project-newer': { file: string; found: number; known: number }
  'project-damaged': { file: string; problem: string }
  'project-locked': { file: string; owner: string }
  'path-outside': { place: string; file: string }
  'footage-changed': { file: string }
  'ffmpeg-missing': { tried: readonly string[] }
  'ffmpeg-failed': { command: string; problem: string }
  'disk-full': { file: string }
  cancelled: { what: string }
  'wrong-use': { problem: string }
  'edit-conflict': { table: string; id: string }
  'edit-refused': { label: string; problems: readonly { place: string; problem: string }[] }
  'render-check-failed': { problems: readonly string[] }
  'held-back': { findings: number }
  'call-unknown': { call: string }
  'call-invalid': { call: string; problems: readonly { place: string; problem: string }[] }
  'too-large': { what: string; limit_bytes: number }
  'not-allowed': { problem: string }
  'engine-gone': Record<never, never>
  unexpected: { trace: string }
  'no-project': Record<never, never>
  'read-only': { file: string }
  'not-there': { what: string; id: string }
  'still-reading': { file: string }
  'jobs-running': { jobs: readonly string[] }
  'desktop-only': { what: string }
  'take-offset': { take: string; expected: number }
  'sound-not-split': { file: string; problem: string }
}

export type ErrorCode = keyof ErrorParameters

type Messages = { readonly [C in ErrorCode]: (p: ErrorParameters[C]) => string }

export const messages: Messages = {
  'document-invalid': (p) => `${p.file} is not a valid breakdown:\n` + p.problems.map((x) => `  ${x.place}: ${x.problem}`).join('\n'),
  'document-not-json': (p) => `${p.file} is not JSON: ${p.problem}`,
  'file-missing': (p) => `${p.file} is not there. Check the name, or where the file was moved to.`,
  'file-unreadable': (p) => `${p.file} cannot be read: ${p.problem}`,
  'file-unwritable': (p) => `${p.file} cannot be written: ${p.problem}`,
  'file-exists': (p) => `${p.file} exists already and was left as it is. Choose another name or move it away.`,
  'not-a-video': (p) => `${p.file} is not a film that can be read: ${p.problem}`,
  'no-picture': (p) => `${p.file} holds no moving picture (sound or a still only).`,
  'film-empty': (p) => `${p.file} holds no frame.`,
  'film-damaged': (p) => `${p.file} is damaged: ${p.problem}`,
  'project-not-ours': (p) => `${p.file} is not a Claimframe project. It was left as it is.`,
  'project-newer': (p) => `${p.file} was made by a newer Claimframe (format ${p.found}; this one knows ${p.known}). It was left as it is.`,
  'project-damaged': (p) =>
    `${p.file} is damaged: ${p.problem}. It was left as it is; open the copy beside it, or the last document that was dumped.`,
  'project-locked': (p) => `${p.file} is open in ${p.owner}. Close it there, or open it to read only.`,
  'path-outside': (p) => `${p.place}: ${p.file} lies outside the document's folder.`,
  'footage-changed': (p) =>
    `${p.file} is not the film that was measured: its frames are others. A film that was encoded again is another film; take the original or a copy of it.`,
  'ffmpeg-missing': (p) => `No usable ffmpeg was found. Tried: ${p.tried.join('; ')}.`,
  'ffmpeg-failed': (p) => `ffmpeg stopped: ${p.problem}`,
  'disk-full': (p) => `The disk is full while writing ${p.file}. Nothing half-written was left; free some space and run again.`,
  cancelled: (p) => `Cancelled: ${p.what}. What was finished is kept for the next run.`,
  'wrong-use': (p) => p.problem,
  'edit-conflict': (p) => `${p.table} ${p.id} was changed meanwhile. Your edit is kept; look at both and choose.`,
  'edit-refused': (p) => `“${p.label}” cannot be done:\n` + p.problems.map((x) => `  ${x.place}: ${x.problem}`).join('\n'),
  'render-check-failed': (p) => `The finished film did not pass its checks:\n` + p.problems.map((x) => `  ${x}`).join('\n'),
  'held-back': (p) =>
    `The film is held back by ${p.findings === 1 ? 'one open finding. The Evidence room shows it' : `${p.findings} open findings. The Evidence room shows them`}; so does \`claimframe claims\`.`,
  'call-unknown': (p) => `The engine knows no call named ${p.call}. Window and engine are of two versions: reload the window.`,
  'call-invalid': (p) => `${p.call} was asked wrongly:\n` + p.problems.map((x) => `  ${x.place}: ${x.problem}`).join('\n'),
  'too-large': (p) => `${p.what} is larger than ${Math.round(p.limit_bytes / 1_000_000)} MB, which is the most that is taken at once.`,
  'not-allowed': (p) => `Not allowed: ${p.problem}.`,
  'engine-gone': () => 'The engine does not answer. What was acknowledged is safe; open Claimframe again.',
  unexpected: (p) => `Something unexpected happened, and nothing was changed. The log tells more under ${p.trace}.`,
  'no-project': () => 'No project is open. Open one, or begin a new one.',
  'read-only': (p) => `${p.file} is open to read only: it is being edited elsewhere.`,
  'not-there': (p) => `There is no ${p.what} ${p.id}.`,
  'still-reading': (p) => `${p.file} is still being read. Try again when that is done.`,
  'jobs-running': (p) => `Still at work: ${p.jobs.join(', ')}. Wait for it, or cancel it.`,
  'desktop-only': (p) => `${p.what} is something that only the desktop window can do.`,
  'sound-not-split': (p) => `${p.file} cannot be taken apart into paragraphs: ${p.problem}. Bring in one file for each paragraph.`,
  'take-offset': (p) => `The recording ${p.take} goes on at byte ${p.expected}.`,
}
