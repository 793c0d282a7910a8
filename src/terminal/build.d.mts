export declare const noteName: string;
export declare function filesUnder(folder: string): readonly string[];
export declare function fingerprint(root: string): string;
export declare function isBuilt(root: string): boolean;
export declare function build(root: string, into?: (root: string, outDir: string) => boolean): boolean;
