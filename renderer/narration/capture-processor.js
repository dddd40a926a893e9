/// Runs beside the sound: hands over every sample of the first channel, 2048 at a time, and the rest when told to stop.
class CaptureProcessor extends AudioWorkletProcessor {
  constructor() {
    super()
    this.samples = new Float32Array(2048)
    this.held = 0
    this.ended = false
    this.port.onmessage = () => {
      this.ended = true
      this.port.postMessage(this.samples.slice(0, this.held))
      this.port.postMessage(null)
    }
  }

  process([input]) {
    if (this.ended) return false
    const channel = input[0]
    if (channel) {
      for (let at = 0; at < channel.length;) {
        const take = Math.min(channel.length - at, this.samples.length - this.held)
        this.samples.set(channel.subarray(at, at + take), this.held)
        at += take
        this.held += take
        if (this.held === this.samples.length) {
          this.port.postMessage(this.samples)
          this.samples = new Float32Array(2048)
          this.held = 0
        }
      }
    }
    return true
  }
}
registerProcessor('capture', CaptureProcessor)
