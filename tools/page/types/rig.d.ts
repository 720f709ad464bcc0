// Made by the daemon: the address of its rig (ApiPaths.RigModule).
export const rig: string;
