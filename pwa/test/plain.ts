/** A number and its unit never stand on two lines; here they read as they are typed. */
export const plain = (text: string): string => text.replaceAll("\u00a0", " ");
