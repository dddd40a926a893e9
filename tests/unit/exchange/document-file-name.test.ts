import { expect, it } from 'vitest'
import { problemOfFileName } from '../../../app/exchange/document-file-name'

it.each([
  'a.mp4',
  'films/a.mp4',
  './a.mp4',
  'films/../a.mp4',
  '-i.mp4',
  '50%: it\'s "a".mp4',
  'ż/😀.mkv',
  'take 2: final.mp4',
  '~a.mp4',
  '.hidden.mp4',
  '..a.mp4',
  'contact.mp4',
  'null.mp4',
  'communication.mp4',
])('should let %j through', (file) => {
  expect(problemOfFileName(file)).toBeNull()
})

// Reserved names: Microsoft, "Naming Files, Paths, and Namespaces".
it.each([
  ['', 'empty'],
  ['/etc/hostname', 'relative'],
  ['//server/share/a.mp4', 'relative'],
  ['C:\\a.mp4', 'backslash'],
  ['c:a.mp4', 'relative'],
  ['\\\\server\\a.mp4', 'backslash'],
  ['../a.mp4', 'outside'],
  ['a/../../b.mp4', 'outside'],
  ['a/../../a/b.mp4', 'outside'],
  ['..', 'outside'],
  ['.', 'no file'],
  ['films/', 'no file'],
  ['films/..', 'no file'],
  ['http://localhost/a.mp4', 'address'],
  ['file:///etc/hostname', 'address'],
  ['a\nb.mp4', 'control'],
  ['a\0.mp4', 'control'],
  ['a\u2028b.mp4', 'control'],
  ['CON', 'device'],
  ['films/nul.mp4', 'device'],
  ['com1.tar.gz', 'device'],
  ['LPT9', 'device'],
  ['aux/a.mp4', 'device'],
  ['a./b.mp4', 'dot or a space'],
  ['a.mp4 ', 'dot or a space'],
])('should refuse %j: %s', (file, why) => {
  expect(problemOfFileName(file)).toContain(why)
})
