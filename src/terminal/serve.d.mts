export declare const contentSecurityPolicy: string;
export declare function identityOf(root: string): string;
export declare function serve(
  folder: string,
  port: number,
  identity?: string,
): Promise<{ readonly url: string; close(): Promise<void> }>;
export declare function whoServes(
  port: number,
  identity: string,
): Promise<'nobody' | 'ourselves' | 'another-copy' | 'another-program'>;
