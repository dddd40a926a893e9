import tseslint from 'typescript-eslint'

/// Layers: `app` imports only `app`; `main` and `renderer` import `app` and never each other;
/// nothing imports tests. Packages are let in where their subject lives, and nowhere else.
const forbid = (files, patterns, ignores = []) => ({
  files,
  ignores,
  rules: { 'no-restricted-imports': ['error', { patterns: patterns.map(([group, message]) => ({ group, message })) }] },
})

const node = [['node:*'], 'the core does no I/O']
const native = [
  [['better-sqlite3'], 'SQL lives in main/store'],
  [['electron'], 'electron stays in main/desktop'],
]
const processes = [['node:child_process', 'fluent-ffmpeg'], 'processes are started in main/media/process.ts only']
const react = [['react', 'react-dom', 'react/*', 'react-dom/*'], 'React belongs to renderer']
const editor = [['prosemirror-state', 'prosemirror-view'], 'the editor belongs to renderer']
const documentModel = [['prosemirror-*'], 'documents live in app/script and app/edit']
const tests = [['**/tests/**'], 'nothing imports tests']

export default tseslint.config(
  { ignores: ['out/**', 'node_modules/**', 'demo-data/made/**', 'docs/**'] },
  ...tseslint.configs.recommended,
  {
    rules: {
      '@typescript-eslint/no-explicit-any': 'error',
      '@typescript-eslint/no-non-null-assertion': 'off',
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_', varsIgnorePattern: '^_' }],
      eqeqeq: 'error',
    },
  },
  forbid(['app/**/*.ts'], [node, ...native, processes, react, editor, documentModel, tests, [['**/main/**', '**/renderer/**'], 'app imports only app']], ['app/script/**', 'app/edit/**']),
  forbid(['app/script/**/*.ts', 'app/edit/**/*.ts'], [node, ...native, processes, react, editor, tests, [['**/main/**', '**/renderer/**'], 'app imports only app']]),
  forbid(['main/**/*.ts'], [...native, processes, react, editor, tests, [['**/renderer/**'], 'main and renderer never import each other']], ['main/store/**', 'main/desktop/**', 'main/media/process.ts']),
  forbid(['main/store/**/*.ts'], [native[1], processes, react, editor, tests]),
  forbid(['main/desktop/**/*.ts'], [native[0], processes, react, editor, tests]),
  forbid(['main/media/process.ts'], [...native, react, editor, tests]),
  forbid(['renderer/**/*.{ts,tsx}'], [node, ...native, processes, tests, [['**/main/**'], 'main and renderer never import each other']]),
)
