// Imported first by every launcher, in syntax that old versions of Node can read.
const [major = 0, minor = 0] = process.versions.node.split('.').map(Number)
if (major < 20 || (major === 20 && minor < 19)) {
  console.error('Claimframe needs Node 20.19 or newer; this is ' + process.versions.node + '. See nodejs.org.')
  process.exit(3)
}
