import { resolve } from 'node:path'

/// A file's name as ffmpeg takes it literally, whatever characters it has: leading dashes, colons
/// (else read as a protocol), percent signs, quotes, newlines.
export const fileUrl = (path: string): string => `file:${resolve(path)}`

/// The arguments that open a film as an input and let it open nothing but files: a playlist under a
/// film's name must not reach the network.
export const inputArguments = (path: string): readonly string[] => ['-protocol_whitelist', 'file,pipe', '-i', fileUrl(path)]
