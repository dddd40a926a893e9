/// Every message a person can meet, written once: what happened, and what to do.
/// Keys are the error codes; the arguments are the error's parameters.
/// `place` says where in a document or project; `file` names a file as the user wrote it.
export interface ErrorParameters {
  'document-invalid': { file: string; problems: readonly { place: string; problem: string }[] }
  'document-not-json': { file: string; problem: string }
  'file-missing': { file: string }
  'file-unreadable': { file: string; problem: string }
  'file-exists': { file: string }
  'not-a-video': { file: string; problem: string }
  'no-picture': { file: string }
  'film-empty': { file: string }
  'film-damaged': { file: string; problem: string }
  'project-not-ours': { file: string }
  'project-newer': { file: string; found: number; known: number }
  'project-locked': { file: string; owner: string }
  'path-outside': { place: string; file: string }
  'footage-changed': { file: string }
  'ffmpeg-missing': { tried: readonly string[] }
  'ffmpeg-failed': { command: string; problem: string }
  'disk-full': { file: string }
  'cancelled': { what: string }
  'wrong-use': { problem: string }
  'edit-conflict': { table: string; id: string }
  'render-check-failed': { problems: readonly string[] }
  'held-back': { findings: number }
}

export type ErrorCode = keyof ErrorParameters

type Messages = { readonly [C in ErrorCode]: (p: ErrorParameters[C]) => string }

export const messages: Messages = {
  'document-invalid': (p) =>
    `${p.file} is not a valid breakdown:\n` + p.problems.map((x) => `  ${x.place}: ${x.problem}`).join('\n'),
  'document-not-json': (p) => `${p.file} is not JSON: ${p.problem}`,
  'file-missing': (p) => `${p.file} is not there. Check the name, or where the file was moved to.`,
  'file-unreadable': (p) => `${p.file} cannot be read: ${p.problem}`,
  'file-exists': (p) => `${p.file} exists already and was left as it is. Choose another name or move it away.`,
  'not-a-video': (p) => `${p.file} is not a film that can be read: ${p.problem}`,
  'no-picture': (p) => `${p.file} holds no moving picture (sound or a still only).`,
  'film-empty': (p) => `${p.file} holds no frame.`,
  'film-damaged': (p) => `${p.file} is damaged: ${p.problem}`,
  'project-not-ours': (p) => `${p.file} is not a Claimframe project. It was left as it is.`,
  'project-newer': (p) =>
    `${p.file} was made by a newer Claimframe (format ${p.found}; this one knows ${p.known}). It was left as it is.`,
  'project-locked': (p) => `${p.file} is open in ${p.owner}. Close it there, or open it to read only.`,
  'path-outside': (p) => `${p.place}: ${p.file} lies outside the document's folder.`,
  'footage-changed': (p) => `${p.file} is not the film that was measured: its content differs. Find the original.`,
  'ffmpeg-missing': (p) => `No usable ffmpeg was found. Tried: ${p.tried.join('; ')}.`,
  'ffmpeg-failed': (p) => `ffmpeg stopped: ${p.problem}`,
  'disk-full': (p) => `The disk is full while writing ${p.file}. Nothing half-written was left; free some space and run again.`,
  'cancelled': (p) => `Cancelled: ${p.what}. What was finished is kept for the next run.`,
  'wrong-use': (p) => p.problem,
  'edit-conflict': (p) => `${p.table} ${p.id} was changed meanwhile. Your edit is kept; look at both and choose.`,
  'render-check-failed': (p) => `The finished film did not pass its checks:\n` + p.problems.map((x) => `  ${x}`).join('\n'),
  'held-back': (p) => `The film is held back: ${p.findings} open findings. See \`claimframe claims\`.`,
}
