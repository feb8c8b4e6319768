// The words of the first page.

export const WERE_HERE = " (you were here)";
