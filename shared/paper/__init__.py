"""Paper: letters that are measured, codes for phones, stocks, and the PDF they become. Every size is in millimetres."""
