// What the page uses of the interpreter's own interface; the build puts the real module at this place.

/** A Python object seen from JavaScript; it must be destroyed when it is no longer needed. */
export interface PyProxy {
  destroy(): void;
  toJs(options?: { dict_converter?: (entries: Iterable<[unknown, unknown]>) => unknown }): unknown;
  // Attributes and methods of the Python object.
  [name: string]: any;
}

export interface PyodideInterface {
  loadPackage(
    names: string | string[],
    options?: { messageCallback?: (message: string) => void; errorCallback?: (message: string) => void },
  ): Promise<unknown[]>;
  pyimport(module: string): PyProxy;
  runPython(code: string): any;
  runPythonAsync(code: string): Promise<any>;
  toPy(value: unknown): PyProxy;
  globals: PyProxy;
  FS: { writeFile(path: string, data: string | Uint8Array): void; readFile(path: string): Uint8Array };
  setInterruptBuffer(buffer: Int32Array | Uint8Array): void;
}

export interface PyodideOptions {
  indexURL: string;
  packages?: string[];
  lockFileURL?: string;
  env?: Record<string, string>;
  stdout?: (line: string) => void;
  stderr?: (line: string) => void;
}

export function loadPyodide(options: PyodideOptions): Promise<PyodideInterface>;
export const version: string;
