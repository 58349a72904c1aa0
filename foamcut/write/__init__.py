"""Writers: a drawing or values in, text or bytes out.  Nothing here opens a file."""
