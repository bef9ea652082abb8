import { spawn } from "node:child_process";
import { root } from "./paths.mjs";

/**
 * Runs a program to its end in the checkout's root and passes SIGINT and SIGTERM on to it.
 *
 * @param {string} command program
 * @param {readonly string[]} args its arguments, taken literally (no shell)
 * @param {{ output?: "show" | "keep" | "stderr"; env?: NodeJS.ProcessEnv }} [options]
 *   "show" (default) lets it write to our own output, "keep" collects both streams as text,
 *   "stderr" sends all it prints to stderr, for callers whose stdout is an answer
 * @returns {Promise<{ code: number; text: string; seconds: number }>} code 130 or 143 after a signal
 */
export function run(command, args, { output = "show", env = {} } = {}) {
  const started = performance.now();
  return new Promise((resolve, reject) => {
    const child = spawn(command, args, {
      cwd: root,
      env: { ...process.env, ...env },
      stdio:
        output === "keep" ? ["ignore", "pipe", "pipe"] : output === "stderr" ? ["ignore", 2, 2] : "inherit",
      // npm and npx are command files on Windows, which need its shell; all our arguments are plain words.
      shell: process.platform === "win32" && command === "npm",
    });
    let text = "";
    for (const stream of [child.stdout, child.stderr]) {
      stream?.setEncoding("utf8").on("data", (chunk) => {
        text += chunk;
      });
    }
    // A terminal sends its Ctrl-C to the child as well; a second one at once would cut its leave-taking short.
    /** @type {NodeJS.Timeout | undefined} */
    let later;
    const interrupt = () => {
      later = setTimeout(() => child.kill("SIGINT"), process.stdin.isTTY ? 2000 : 0);
    };
    const terminate = () => child.kill("SIGTERM");
    process.on("SIGINT", interrupt).on("SIGTERM", terminate);
    const done = () => {
      clearTimeout(later);
      process.off("SIGINT", interrupt).off("SIGTERM", terminate);
    };
    child.once("error", (error) => {
      done();
      reject(error);
    });
    child.once("close", (code, signal) => {
      done();
      const bySignal = signal === "SIGINT" ? 130 : signal === "SIGTERM" ? 143 : 1;
      resolve({ code: code ?? bySignal, text, seconds: (performance.now() - started) / 1000 });
    });
  });
}
