// How is a new thing named so that no other has its name, with or without a link?

/** @type {(bytes?: number) => string} */
export const newId = (bytes = 8) =>
  Array.from(crypto.getRandomValues(new Uint8Array(bytes)), (b) => b.toString(16).padStart(2, "0")).join("");
