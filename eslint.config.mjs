import tseslint from "typescript-eslint";

export default tseslint.config(
  { ignores: ["dist/**", "node_modules/**", "coverage/**", "**/fixtures/**"] },
  {
    files: ["**/*.ts", "**/*.tsx"],
    extends: [tseslint.configs.strictTypeChecked],
    languageOptions: { parserOptions: { projectService: true, tsconfigRootDir: import.meta.dirname } },
    linterOptions: { reportUnusedDisableDirectives: "error" },
    rules: {
      // Leaving fields out of a copy by naming them is the plainest way to say it.
      "@typescript-eslint/no-unused-vars": ["error", { ignoreRestSiblings: true, varsIgnorePattern: "^_" }],
      // Typed-array kernels index within loops whose bounds are their own check.
      "@typescript-eslint/no-non-null-assertion": "off",
      "@typescript-eslint/restrict-template-expressions": [
        "error",
        { allowNumber: true, allowBoolean: true },
      ],
      "@typescript-eslint/no-unnecessary-condition": "off",
      "@typescript-eslint/no-confusing-void-expression": "off",
      "@typescript-eslint/unified-signatures": "off",
      // House rule: a file has one reason to change; even a kernel stays below this.
      "max-lines": ["error", { max: 350 }],
    },
  },
  {
    // A language is one file, so that a translator finds all of it: words alone, no logic.
    files: ["src/words/en.ts"],
    rules: { "max-lines": "off" },
  },
  {
    // An escape hatch needs its reason beside it.
    files: ["**/*.ts", "**/*.tsx"],
    rules: {
      "@typescript-eslint/ban-ts-comment": [
        "error",
        { "ts-expect-error": "allow-with-description", "ts-ignore": true, minimumDescriptionLength: 10 },
      ],
    },
  },
  {
    // The core must give the same answer everywhere and every time: no clock, no chance, no ambient state.
    files: ["src/{quantity,reference,numerics,medium,vessel,path,picture,setup,reading,plan}/**/*.ts"],
    ignores: ["**/*.test.ts"],
    rules: {
      "no-restricted-globals": [
        "error",
        ...[
          "window",
          "document",
          "navigator",
          "localStorage",
          "fetch",
          "process",
          "Buffer",
          "performance",
        ].map((name) => ({
          name,
          message: "The core is pure: it runs in Node, in a browser and in workers alike.",
        })),
      ],
      "no-restricted-properties": [
        "error",
        {
          object: "Math",
          property: "random",
          message: "The core draws random numbers from a seed that is handed in.",
        },
        { object: "Date", property: "now", message: "The core has no clock: take the time as an argument." },
      ],
      "no-restricted-syntax": [
        "error",
        {
          selector: "NewExpression[callee.name='Date'][arguments.length=0]",
          message: "The core has no clock: take the time as an argument.",
        },
      ],
      "no-console": "error",
    },
  },
);
