export declare const contentSecurityPolicy: string;
export declare function serve(folder: string, port: number): Promise<{ readonly url: string; close(): Promise<void> }>;
