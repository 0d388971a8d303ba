export { WAV_HEADER_BYTES, pcm16, wavHeader, type WavForm } from "./write.js"
