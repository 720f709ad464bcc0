// What the program serves as /js/words.js: the pages' texts, by section and key.
import texts from '../../../src/RigDaq.App/Text/pages/en.json';
export const words: typeof texts & { states: Record<string, string> };
