import { builtinModules } from 'node:module'
import tseslint from 'typescript-eslint'

/// The folders of `app`, lowest first: each may import the ones before it, never one after it.
export const appFolders = [
  'errors',
  'time',
  'project',
  'geometry',
  'body',
  'motion',
  'track',
  'measure',
  'script',
  'align',
  'programme',
  'marks',
  'render',
  'safety',
  'exchange',
  'release',
  'edit',
  'contract',
]

/// Where a package or a layer is let in, and nowhere else. `imported` is a regular expression on
/// what stands in the import; `at` names the areas below that may.
const gates = [
  { imported: '^electron(/|$)', at: ['main/desktop'], message: 'electron stays in main/desktop' },
  { imported: '^better-sqlite3(/|$)', at: ['main/store'], message: 'SQL lives in main/store' },
  {
    imported: '^((node:)?child_process$|fluent-ffmpeg(/|$))',
    at: ['main/media/process.ts'],
    message: 'processes are started in main/media/process.ts only',
  },
  {
    imported: `^(node:|(${builtinModules.filter((name) => !name.startsWith('_')).join('|')})(/|$))`,
    at: ['main', 'main/store', 'main/desktop', 'main/media/process.ts', 'demo-data'],
    message: 'no Node here',
  },
  { imported: '^react(-dom)?(/|$)', at: ['renderer'], message: 'React belongs to renderer' },
  { imported: '^prosemirror-(state|view)(/|$)', at: ['renderer'], message: 'the editor belongs to renderer' },
  {
    imported: '^prosemirror-(?!(state|view)(/|$))',
    at: ['app/script', 'app/edit', 'renderer'],
    message: 'documents live in app/script and app/edit',
  },
  { imported: '^(\\.\\./)+tests(/|$)', at: [], message: 'nothing imports tests' },
  { imported: '^(\\.\\./)+demo-data(/|$)', at: ['demo-data'], message: 'nothing imports the demo' },
  { imported: '^(\\.\\./)+renderer(/|$)', at: ['renderer'], message: 'renderer is imported by renderer only' },
  {
    imported: '^(\\.\\./)+main(/|$)',
    at: ['main', 'main/store', 'main/desktop', 'main/media/process.ts', 'demo-data'],
    message: 'main is imported by main and the demo only',
  },
]

/// Each file is in one area: the first that fits it.
const areas = [
  ...appFolders.map((folder) => ({ name: `app/${folder}`, files: [`app/${folder}/**/*.ts`], ignores: [] })),
  { name: 'app', files: ['app/**/*.ts'], ignores: appFolders.map((folder) => `app/${folder}/**`) },
  { name: 'main/store', files: ['main/store/**/*.ts'], ignores: [] },
  { name: 'main/desktop', files: ['main/desktop/**/*.ts'], ignores: [] },
  { name: 'main/media/process.ts', files: ['main/media/process.ts'], ignores: [] },
  { name: 'main', files: ['main/**/*.ts'], ignores: ['main/store/**', 'main/desktop/**', 'main/media/process.ts'] },
  { name: 'renderer', files: ['renderer/**/*.{ts,tsx}'], ignores: [] },
  { name: 'demo-data', files: ['demo-data/**/*.ts'], ignores: [] },
]

/// What an area may not import: the gates that leave it out, and for `app` the folders above.
function forbidden(area) {
  const shut = gates.filter((gate) => !gate.at.includes(area.name))
  if (!area.name.startsWith('app')) return shut
  const at = appFolders.indexOf(area.name.slice('app/'.length))
  const above = appFolders.slice(at + 1)
  if (above.length === 0) return shut
  return [
    ...shut,
    {
      imported: `^(\\./(${above.join('|')})/|(\\.\\./)+(app/)?(${above.join('|')})(/|$))`,
      message: 'app imports downward only: see the order in eslint.config.js',
    },
  ]
}

/// Imports that the import rule does not see: late ones, `require`, and types named by `import(...)`.
function lateImports({ imported, message }) {
  const literal = `[value=/${imported.replaceAll('/', '\\u002F')}/]`
  return ['ImportExpression > Literal', "CallExpression[callee.name='require'] > Literal", 'TSImportType Literal'].map((node) => ({
    selector: node + literal,
    message,
  }))
}

const unseen = [
  { selector: "ImportExpression[source.type!='Literal']", message: 'name what is imported, so that it can be checked' },
  {
    selector: "CallExpression[callee.name='require'][arguments.0.type!='Literal']",
    message: 'name what is required, so that it can be checked',
  },
]

/// The core gives the same answer every time: clock and chance come in as arguments.
const impure = [
  { selector: "MemberExpression[object.name='Date'][property.name='now']", message: 'the clock comes in as an argument' },
  { selector: "NewExpression[callee.name='Date'][arguments.length=0]", message: 'the clock comes in as an argument' },
  { selector: "MemberExpression[object.name='Math'][property.name='random']", message: 'the seed comes in as an argument' },
]

function rulesOf(area) {
  const shut = forbidden(area)
  return {
    files: area.files,
    ignores: area.ignores,
    rules: {
      'no-restricted-imports': ['error', { patterns: shut.map(({ imported, message }) => ({ regex: imported, message })) }],
      'no-restricted-syntax': ['error', ...shut.flatMap(lateImports), ...unseen, ...(area.name.startsWith('app') ? impure : [])],
    },
  }
}

export default tseslint.config(
  { ignores: ['out/**', 'node_modules/**', 'demo-data/made/**', 'docs/**'] },
  { linterOptions: { reportUnusedDisableDirectives: 'error' } },
  ...tseslint.configs.recommended,
  {
    rules: {
      '@typescript-eslint/ban-ts-comment': [
        'error',
        { 'ts-expect-error': 'allow-with-description', 'ts-ignore': true, 'ts-nocheck': true },
      ],
      '@typescript-eslint/no-explicit-any': 'error',
      '@typescript-eslint/no-non-null-assertion': 'off',
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_', varsIgnorePattern: '^_' }],
      eqeqeq: 'error',
    },
  },
  ...areas.map(rulesOf),
)
