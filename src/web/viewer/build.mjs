// One file for pages to carry: three.js shaken, its licence kept. Another name for it may be given.
import { readFileSync } from 'node:fs';
import { build } from 'esbuild';

const three = JSON.parse(readFileSync('node_modules/three/package.json', 'utf8'));
const licence = readFileSync('node_modules/three/LICENSE', 'utf8').trim().replaceAll('*/', '* /');
await build({
  entryPoints: ['src/viewer.js'],
  outfile: process.argv[2] ?? 'dist/viewer.js',
  bundle: true,
  minify: true,
  format: 'iife',
  globalName: 'Hubwright',
  target: 'es2022',
  charset: 'ascii',
  legalComments: 'none',
  banner: { js: `/* hubwright's viewer, with three.js ${three.version} inside:\n${licence}\n*/` },
});
