import { filmUploadAddress } from '../../app/contract/addresses'
import { readReply, refusalWith, type Reply } from '../../app/contract/refusal'

/// Hands a film's bytes to the engine; `onPart` hears how much of it is over, 0–1. Never rejects: what went wrong on the way is a
/// refusal. `fetch` does not tell how much it has sent.
export function uploadFilm(file: File, onPart: (part: number) => void): Promise<Reply<unknown>> {
  return new Promise((done) => {
    const request = new XMLHttpRequest()
    const gone = (): void => done({ ok: false, error: refusalWith('engine-gone', {}) })
    request.open('POST', filmUploadAddress(file.name))
    request.setRequestHeader('content-type', 'application/octet-stream')
    request.upload.onprogress = ({ loaded, total }) => onPart(total > 0 ? loaded / total : 0)
    request.onload = () => {
      try {
        done(readReply(JSON.parse(request.responseText)))
      } catch {
        gone()
      }
    }
    request.onerror = request.onabort = request.ontimeout = gone
    request.send(file)
  })
}
