// The rules for the pages' scripts. What several pages do has one place: elements in dom.js, requests in api.js, what a browser
// remembers in storage.js. stop.js stands alone on purpose, and hand.js sends its last stop past everything that waits.
import js from '@eslint/js';
import globals from 'globals';

const onePlace = (object, property, place) => ({ object, property, message: `It has one place: ${place}.` });

export default [
  js.configs.recommended,
  {
    languageOptions: { ecmaVersion: 2024, sourceType: 'module', globals: globals.browser },
    linterOptions: { reportUnusedDisableDirectives: 'error' },
    rules: {
      eqeqeq: ['error', 'always', { null: 'ignore' }],
      'no-var': 'error',
      'prefer-const': ['error', { destructuring: 'all' }],
      'no-implicit-globals': 'error',
      'no-unused-vars': ['error', { argsIgnorePattern: '^_', ignoreRestSiblings: true }],
      'max-len': ['error', { code: 140, ignoreUrls: true }],
      'max-params': ['error', 7],
      'no-restricted-globals': ['error',
        { name: 'localStorage', message: 'It can be blocked: storage.js.' }, { name: 'sessionStorage', message: 'It can be blocked: storage.js.' },
        { name: 'fetch', message: 'Each request has a time-out: api.js.' }],
      'no-restricted-properties': ['error', onePlace('document', 'getElementById', 'dom.js'), onePlace('document', 'querySelectorAll', 'dom.js')],
    },
  },
  { files: ['**/storage.js', '**/api.js', '**/hand.js', '**/stop.js'], rules: { 'no-restricted-globals': 'off' } },
  { files: ['**/dom.js', '**/stop.js'], rules: { 'no-restricted-properties': 'off' } },
];
