// The one program that Maven runs for this module: `node scripts/maven-step.mjs build|test [NAMED_JAVA_TEST]`.
//
// build: installs the packages, builds dist/ and mirrors it to target/classes/heldmark-viewer/.
// test:  runs the unit tests and the linter.
//
// Each step leaves a stamp with a hash of what went in, and is skipped while the hash is the same, so that a
// repeated Maven run costs one start of node. Stamps lie in target/ and node_modules/: a clean clone runs all.

import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const ROOT = join(dirname(fileURLToPath(import.meta.url)), '..');
const NODE_MINIMUM = [20, 19];
const BUILD_INPUTS = [
  'src',
  'public',
  'index.html',
  'vite.config.ts',
  'tsconfig.json',
  'package.json',
  'package-lock.json',
];
const TEST_INPUTS = [...BUILD_INPUTS, 'vectors', 'dev', 'e2e', 'scripts', 'biome.json', 'vitest.e2e.config.ts'];

checkNode();
const [step, namedJavaTest] = process.argv.slice(2);
if (step === 'build') {
  install();
  build();
} else if (step === 'test') {
  // Maven passes the text of an unset property through as it stands.
  if (namedJavaTest && !namedJavaTest.startsWith('${')) process.exit(0);
  install();
  test();
} else {
  fail(`unknown step: step=${step}, allowed: build, test`, 2);
}

function install() {
  const inputs = hashOf(['package.json', 'package-lock.json', '.npmrc'], process.version);
  unlessStamped('node_modules/.heldmark-installed', inputs, () => npm('ci', '--no-audit', '--no-fund'));
}

function build() {
  unlessStamped('target/viewer-built', hashOf(BUILD_INPUTS, process.version), () => {
    npm('run', '--silent', 'build');
    const packed = join(ROOT, 'target/classes/heldmark-viewer');
    rmSync(packed, { recursive: true, force: true });
    mkdirSync(dirname(packed), { recursive: true });
    cpSync(join(ROOT, 'dist'), packed, { recursive: true });
  });
}

function test() {
  unlessStamped('target/viewer-tested', hashOf(TEST_INPUTS, process.version), () => {
    npm('run', '--silent', 'lint');
    npm('run', '--silent', 'test');
  });
}

function unlessStamped(stamp, hash, work) {
  const path = join(ROOT, stamp);
  if (existsSync(path) && readFileSync(path, 'utf8') === hash) return;
  rmSync(path, { force: true });
  work();
  mkdirSync(dirname(path), { recursive: true });
  writeFileSync(path, hash);
}

function hashOf(inputs, ...words) {
  const hash = createHash('sha256');
  for (const word of words) hash.update(word);
  for (const input of inputs) addToHash(hash, input);
  return hash.digest('hex');
}

function addToHash(hash, path) {
  const full = join(ROOT, path);
  if (!existsSync(full)) return;
  if (statSync(full).isDirectory()) {
    for (const name of readdirSync(full).sort()) addToHash(hash, join(path, name));
  } else {
    hash.update(path).update('\0').update(readFileSync(full)).update('\0');
  }
}

function npm(...args) {
  const run = spawnSync('npm', args, { cwd: ROOT, stdio: 'inherit', shell: process.platform === 'win32' });
  if (run.error) fail(`npm could not be started (${run.error.message}): install Node 20.19 or newer with npm`, 1);
  if (run.status !== 0) fail(`npm ${args.join(' ')} failed: exit=${run.status}`, 1);
}

function checkNode() {
  const [major, minor] = process.versions.node.split('.').map(Number);
  if (major > NODE_MINIMUM[0] || (major === NODE_MINIMUM[0] && minor >= NODE_MINIMUM[1])) return;
  fail(`Node ${NODE_MINIMUM.join('.')} or newer is needed: version=${process.versions.node}`, 1);
}

function fail(sentence, code) {
  console.error(`viewer-web: ${sentence}`);
  process.exit(code);
}
