/// The list of everything in a delivery, each with its checksum, so that whoever has the folder can tell that
/// nothing is missing or changed.
export interface Manifest {
  readonly format: 'claimframe-delivery'
  readonly film: string
  readonly version: string
  readonly date: string
  readonly made: string
  readonly files: readonly ManifestFile[]
}

export interface ManifestFile {
  /// Relative to the manifest, with forward slashes.
  readonly name: string
  readonly bytes: number
  readonly sha256: string
  readonly what: string
}

export const MANIFEST = 'manifest.json'

/// Files stand in the order of their names.
export const writeManifest = (manifest: Manifest): string =>
  `${JSON.stringify({ ...manifest, files: [...manifest.files].sort((a, b) => (a.name < b.name ? -1 : 1)) }, null, 2)}\n`
