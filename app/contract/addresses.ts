/// Addresses of everything that is not a call, relative to the page: a window never knows the port
/// or the secret part of the path that it stands on, and the same words work on the desktop's scheme.
/// A page has no folders below it, so `fetch(mediaAddress('f1'))` is right anywhere in the window.

/// The film file itself, byte for byte. GET and HEAD; `Range: bytes=…` (one range) is answered by 206
/// with `Content-Range`, or 416. `ETag` names the content.
export const mediaAddress = (footage: string): string => `media/${part(footage)}`

/// The film's small stand-in, ranges as for the film; 404 until `footage.facts` says `ready`.
export const proxyAddress = (footage: string): string => `proxy/${part(footage)}`

/// The film that a finished job made (`render`, `release`), ranges as for the films of the project. 404 where it made none, and
/// once the film is gone from its place or another file lies there.
export const finishedAddress = (job: string): string => `finished/${part(job)}`

/// One exact frame as a PNG of the upright, square-pixel, unmirrored picture, `width` pixels wide
/// (16 to 4096; its own width when absent). 404 outside the film, 409 while the film is being read.
export const stillAddress = (footage: string, frame: number, width?: number): string =>
  `still/${part(footage)}/${frame}${width === undefined ? '' : `?width=${width}`}`

/// A file that the project keeps of a published version: `evidence.json`, `evidence.html`, `checks.json`, and the stills that
/// its sentences rest on, there when the footage is not.
export const keptAddress = (release: string, name: string): string => `kept/${part(release)}/${part(name)}`

/// Loudness of a take for drawing: one pair of little-endian 16-bit integers (lowest, highest sample)
/// for each 1/100 s. `take` is a take's id or the file name that a paragraph names.
export const waveAddress = (take: string): string => `wave/${part(take)}`

/// A finished take's WAV file, ranges as for films.
export const takeAddress = (take: string): string => `takes/${part(take)}`

/// Appends to a recording: POST of `application/octet-stream`, 8 MB at most at once. Answered with
/// `{ok: true, value: {bytes}}` once the bytes are safe on disk. Another offset than the recording's
/// length is refused with 409 and `take-offset`, which names the right one; bytes that were sent
/// again after a lost answer are then simply not sent a third time.
export const takePieceAddress = (take: string, offset: number): string => `takes/${part(take)}?offset=${offset}`

/// Hands a sound file over as bytes (WAV, FLAC, MP3, M4A and whatever else ffmpeg reads), as a take of a paragraph or, without
/// one, as a recording of the whole script: POST of `application/octet-stream`. Answered with `{ok: true, value: Take}` once
/// it is kept; a file that holds no sound is refused by its name and leaves nothing.
export const soundUploadAddress = (name: string, paragraph: string | null): string =>
  `takes?name=${part(name)}${paragraph === null ? '' : `&paragraph=${part(paragraph)}`}`

/// Hands a film over as bytes, for a window that has the file but not its path (a drop in a browser):
/// POST of `application/octet-stream`. Answered like `footage.add` with one file.
export const filmUploadAddress = (name: string): string => `footage?name=${part(name)}`

/// A type face of the film, as the painter uses it (TrueType).
export const faceAddress = (face: FaceName): string => `faces/${face}.ttf`
export type FaceName = (typeof faceNames)[number]
export const faceNames = ['atkinson-regular', 'atkinson-bold'] as const

/// Where a call is posted to, as JSON.
export const callAddress = (name: string): string => `call/${part(name)}`

/// The next events after number `after`, as seen by engine `engine`; waits up to 25 s for one.
export const eventsAddress = (engine: string, after: number): string => `events?engine=${part(engine)}&after=${after}`

/// Ids and names hold letters of any script; a name's slashes are encoded as well.
const part = (text: string): string => encodeURIComponent(text)

/// The addresses above, for the reference.
export const addressTable: readonly { readonly address: string; readonly method: string; readonly what: string }[] = [
  {
    address: 'media/<footage>',
    method: 'GET, HEAD',
    what: 'the film file, byte for byte; one range is answered by 206 with `Content-Range`, or 416; `ETag`, `If-Range` and `If-None-Match` are kept',
  },
  {
    address: 'proxy/<footage>',
    method: 'GET, HEAD',
    what: 'the small stand-in (MP4, H.264, BT.709): frame i of the film is its frame i, a key frame, shown for 1/60 s; 404 until `footage.facts` says `ready`',
  },
  {
    address: 'finished/<job>',
    method: 'GET, HEAD',
    what: 'the film that a finished `render` or `release` job made, ranges as for `media`; 404 where it made none, and once the film is gone from its place or another file lies there',
  },
  {
    address: 'still/<footage>/<frame>?width=',
    method: 'GET, HEAD',
    what: 'one exact frame as PNG, upright, square pixels, unmirrored; 404 outside the film, 409 while it is being read',
  },
  {
    address: 'kept/<release>/<name>',
    method: 'GET, HEAD',
    what: 'a file that the project keeps of a published version: `evidence.json`, `evidence.html`, `checks.json`, `stills/….jpg` (the name’s slash encoded)',
  },
  { address: 'wave/<take>', method: 'GET, HEAD', what: 'lowest and highest sample of each 1/100 s, little-endian 16-bit pairs' },
  { address: 'takes/<take>', method: 'GET, HEAD', what: 'a finished recording (WAV), or the sound file that a paragraph names' },
  {
    address: 'takes/<take>?offset=',
    method: 'POST',
    what: 'appends to a recording (`application/octet-stream`, 8 MB at most); answered once the bytes are safe on disk; another offset than its length: 409 and `take-offset` with the right one',
  },
  {
    address: 'takes?name=&paragraph=',
    method: 'POST',
    what: 'a sound file as bytes (`application/octet-stream`): a take of that paragraph, or without one a recording of the whole script; answered with the `Take`',
  },
  {
    address: 'footage?name=',
    method: 'POST',
    what: 'a film as bytes (`application/octet-stream`), for a window that has no path; answered like `footage.add`',
  },
  { address: 'faces/<name>.ttf', method: 'GET, HEAD', what: 'a type face of the film: `atkinson-regular`, `atkinson-bold`' },
]
