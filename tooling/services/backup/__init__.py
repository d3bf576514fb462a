"""Everything of a shop in one verified file, and a shop out of such a file, on either database.

states      which tables a shop has, as far as it was migrated
values      a row as plain JSON, and back, exactly
frozen      one moment of the database to read from, while people work
manifest    what a file says of itself
packing     the file as it is written
unpacking   the file as it is read: nothing in it is believed before it is checked
writing     a backup
loading     rows into empty tables
standing    how a new shop takes the place of the old one: all of it, or nothing
room        whether the disks have room for a restore
restoring   a restore
kept        the folder of backups that the program keeps by itself
"""
