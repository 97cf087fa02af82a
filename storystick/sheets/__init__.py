"""Paper: where to cut, what goes on which sheet, register marks, check bars."""
